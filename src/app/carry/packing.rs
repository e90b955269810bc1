//! A job with its pictures on its way out, as one file or several: pictures are read from the disk one
//! after the other, and the share sheet opens only from a tap, so what is packed waits for that.

use std::rc::Rc;

use crate::app::ports::{PictureBytes, Trouble};
use crate::app::{Ask, Effect, Model, Notice, OpenJob};
use crate::domain::ids::JobId;
use crate::domain::picture::Digest;
use crate::exchange::{bundle, jobfile};

/// From which size on a file is given out before more is packed, in bytes: messengers and phones take
/// no more.
const FULL: usize = 24 << 20;

/// What happens while pictures are packed.
#[derive(Clone, Debug, PartialEq)]
pub enum PackAction {
    /// Begin.
    Begin,
    /// A picture was read; none where it is not on this device.
    Came(Digest, Result<Option<Rc<PictureBytes>>, Trouble>),
    /// Hand out what is packed.
    GiveOut,
    /// Give it up.
    Stop,
}

/// A job with its pictures on its way out.
#[derive(Debug)]
pub struct Packing {
    job: JobId,
    file: bundle::Packing,
    /// The pictures that are still to come, the next one last.
    left: Vec<Digest>,
    of: usize,
    /// How many of them are not on this device.
    elsewhere: usize,
    /// How many files were given out before this one.
    given: usize,
    is_ready: bool,
}

impl Packing {
    /// Whether it is of this job.
    #[must_use]
    pub fn is_of(&self, job: JobId) -> bool {
        self.job == job
    }

    /// How many pictures are done with, of how many.
    #[must_use]
    pub fn progress(&self) -> (usize, usize) {
        (self.of - self.left.len(), self.of)
    }

    /// What the file holds that can be given out now: pictures, and bytes. None while it is packed.
    #[must_use]
    pub fn ready(&self) -> Option<(usize, usize)> {
        self.is_ready
            .then(|| (self.file.pictures(), self.file.size()))
    }

    /// Whether another file will follow.
    #[must_use]
    pub fn goes_on(&self) -> bool {
        !self.left.is_empty()
    }

    /// How many pictures are not on this device.
    #[must_use]
    pub fn elsewhere(&self) -> usize {
        self.elsewhere
    }
}

/// Lets something happen.
pub(in crate::app) fn happen(model: &mut Model, action: PackAction) -> Vec<Effect> {
    match action {
        PackAction::Begin => {
            let Some(open) = &model.open else {
                return Vec::new();
            };
            let left = pictures_of(open);
            model.packing = Some(Packing {
                job: open.journal.job(),
                file: bundle::Packing::default(),
                of: left.len(),
                left,
                elsewhere: 0,
                given: 0,
                is_ready: false,
            });
            go_on(model)
        }
        PackAction::Came(digest, found) => came(model, digest, found),
        PackAction::GiveOut => give_out(model),
        PackAction::Stop => {
            model.packing = None;
            Vec::new()
        }
    }
}

/// The pictures that the job names, each once.
fn pictures_of(open: &OpenJob) -> Vec<Digest> {
    let rows = open.journal.registry().pictures.iter();
    let mut all: Vec<Digest> = Vec::new();
    for (_, row) in rows {
        for digest in row.digest.distinct() {
            if !all.contains(digest) {
                all.push(*digest);
            }
        }
    }
    all
}

/// Reads the next picture, unless the file is full or complete.
fn go_on(model: &mut Model) -> Vec<Effect> {
    let Some(packing) = &mut model.packing else {
        return Vec::new();
    };
    match packing.left.last() {
        Some(next) if packing.file.size() < FULL => {
            vec![Effect::Ask(Ask::Pack(packing.job, *next))]
        }
        Some(_) | None => {
            packing.is_ready = true;
            Vec::new()
        }
    }
}

fn came(
    model: &mut Model,
    digest: Digest,
    found: Result<Option<Rc<PictureBytes>>, Trouble>,
) -> Vec<Effect> {
    let Some(packing) = &mut model.packing else {
        return Vec::new();
    };
    // What was given up may still have been on its way.
    if packing.left.last() != Some(&digest) {
        return Vec::new();
    }
    match found {
        Ok(Some(bytes)) => packing.file.add(digest, &bytes.whole, &bytes.small),
        Ok(None) => packing.elsewhere += 1,
        Err(trouble) => {
            model.packing = None;
            model.notice = Some(Notice::Trouble(trouble));
            return Vec::new();
        }
    }
    packing.left.pop();
    go_on(model)
}

fn give_out(model: &mut Model) -> Vec<Effect> {
    let (Some(packing), Some(open)) = (&mut model.packing, &model.open) else {
        return Vec::new();
    };
    if !packing.is_ready || packing.job != open.journal.job() {
        return Vec::new();
    }
    packing.given += 1;
    packing.is_ready = false;
    let file = std::mem::take(&mut packing.file);
    // What was done while pictures were packed goes along.
    let journal = &open.journal;
    let job = jobfile::write(journal.job(), open.name(), journal.lines());
    let number = packing.given.to_string();
    let is_one = packing.given == 1 && packing.left.is_empty();
    let more: &[&str] = if is_one {
        &["pictures"]
    } else {
        &["pictures", &number]
    };
    let mut effects = vec![Effect::HandOut {
        name: open.file_name(more, "bundle.txt"),
        kind: "text/plain",
        bytes: file.finish(&job).into_bytes(),
        records: journal.held(),
    }];
    if packing.left.is_empty() {
        model.packing = None;
    } else {
        effects.extend(go_on(model));
    }
    effects
}
