//! What a job file's reader has to say, in words for the person.

use std::fmt;

/// Something about a job file that its reader should know.
#[derive(Clone, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the fields are named after what they are")]
pub enum Finding {
    /// It has more bytes than any job; nothing of it was read.
    TooLarge { bytes: usize, most: usize },
    /// It has more lines than any job; the rest was left out.
    TooManyLines { most: usize },
    /// One line is longer than any line of a job; it was left out.
    LineTooLong { line: usize, most: usize },
    /// Nothing in it looks like a job.
    NotAJobFile,
    /// Its first line is missing or damaged.
    HeaderDamaged,
    /// A newer version of the program wrote it.
    NewerVersion { version: u32 },
    /// It belongs to another job than the open one. Keys are the five characters on the tags.
    OtherJob {
        name: String,
        key: String,
        open: String,
    },
    /// Its last line is missing.
    CutOff { whole: usize },
    /// It was changed after it was written.
    Altered { expected: usize, found: usize },
    /// What one person did, as written on one phone, is not as it was written.
    WriterAltered { by: String, lines: usize },
    /// A line is damaged; it was left out.
    Unreadable { line: usize },
    /// Something stands after the end.
    AfterTheEnd { lines: usize },
}

impl fmt::Display for Finding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLarge { bytes, most } => write!(
                f,
                "This file has {bytes} bytes, and a job has {most} at most. Nothing of it was read. Check that it is the right file."
            ),
            Self::TooManyLines { most } => write!(
                f,
                "This file has more than {most} lines, more than any job. Only those were read. Check that it is the right file."
            ),
            Self::LineTooLong { line, most } => write!(
                f,
                "Line {line} is longer than {most} bytes and was left out. Send or copy the file again."
            ),
            Self::NotAJobFile => f.write_str(
                "This is not a job file. A job file is text, and its first line names the format and the job. Choose another file. A cable schedule is brought in from inside a job: Job, “Import a schedule”.",
            ),
            Self::HeaderDamaged => f.write_str(
                "The first line of this file is missing or damaged, so it does not say which job it belongs to. Nothing of it was taken in. Send or copy it again.",
            ),
            Self::NewerVersion { version } => write!(
                f,
                "A newer version of this app wrote this file (format {version}). What is known here is taken in. Update the app on this device to see the rest."
            ),
            Self::OtherJob { name, key, open } => write!(
                f,
                "This is of another job: {name}, with {key} on its tags. The open job has {open}, and nothing of this goes into it. Open that job to see what would come in."
            ),
            Self::CutOff { whole } => write!(
                f,
                "The end of this file is missing: it was cut off on its way, or given out after the app had stopped. {} Send or copy it again if you can.",
                whole_lines(*whole)
            ),
            Self::Altered { expected, found } if expected != found => write!(
                f,
                "This file was changed after it was written: it should have {expected} lines of work and has {found}. Send or copy it again."
            ),
            Self::Altered { .. } => f.write_str(
                "This file was changed after it was written: its check sum does not match. Send or copy it again.",
            ),
            Self::WriterAltered { by, lines } => write!(
                f,
                "The work of {by} in this file is not as it was written: {}. Take it in only if there is no better copy.",
                counted(*lines)
            ),
            Self::Unreadable { line } => {
                write!(f, "Line {line} is damaged and was left out. Send or copy the file again.")
            }
            Self::AfterTheEnd { lines } => write!(
                f,
                "There is more after the end of this file, as when two files are joined: {}. Choose the second file by itself.",
                counted(*lines)
            ),
        }
    }
}

fn whole_lines(count: usize) -> String {
    match count {
        0 => "No line in it is whole.".to_owned(),
        1 => "1 line in it is whole.".to_owned(),
        _ => format!("{count} lines in it are whole."),
    }
}

fn counted(lines: usize) -> String {
    match lines {
        1 => "1 line".to_owned(),
        _ => format!("{lines} lines"),
    }
}
