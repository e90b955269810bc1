//! The demo job "Marrowby Mill": an invented grain mill, converted into four flats and a pottery
//! studio, pre-wired by two people with a phone each.
//!
//! Everything is done through the commands that the screens use, with fixed writers and times, so
//! that the file is the same on every machine. The two share their work on the first day and at the
//! end of the first week; the faults that the job shows come from what they did apart after that.
//! Places and people are invented.

#[path = "marrowby/first_fix.rs"]
mod first_fix;
#[path = "marrowby/house.rs"]
mod house;
#[path = "marrowby/phone.rs"]
mod phone;
#[path = "marrowby/racks.rs"]
mod racks;
#[path = "marrowby/second_fix.rs"]
mod second_fix;
#[path = "marrowby/tables.rs"]
mod tables;

use bothends::domain::ids::{Bits80, JobId};
use bothends::exchange::jobfile;
use bothends::journal::line_id;
use phone::Phone;

/// The job.
pub(crate) const JOB: JobId = JobId(Bits80(*b"MarrowMill"));

/// What it is called.
pub(crate) const NAME: &str = "Marrowby Mill";

/// The whole job as a job file.
pub(crate) fn job_file() -> String {
    let mut lines = lines();
    // Writer by writer, so that what is alike stands together and the file packs small.
    lines.sort_by_key(|line| line_id(line));
    jobfile::write(JOB, NAME, lines.iter().map(String::as_str))
}

/// Everything that the two did, merged.
pub(crate) fn lines() -> Vec<String> {
    let mut pw = Phone::new("PW, blue phone", 1);
    let mut th = Phone::new("TH, yellow phone", 61);

    // Monday: one sets the job up and hands it over at noon, then both plan.
    pw.open("monday", &[]);
    house::set_up(&mut pw);
    th.open("monday", &pw.lines());
    house::plan_flats(&mut pw);
    house::plan_studio(&mut th);
    racks::build(&mut th);

    // Monday evening: the two share, and one gives every cable its position.
    pw.take(&th.lines());
    racks::fill(&mut pw);
    let shared = pw.lines();

    // Tuesday to Friday: first fix, apart.
    pw.open("first", &shared);
    th.open("first", &shared);
    first_fix::flats_a_and_b(&mut pw);
    first_fix::common_parts(&mut pw);
    first_fix::studio(&mut th);
    first_fix::flat_c(&mut th);

    // Friday: the two share again, half way through the job.
    pw.take(&th.lines());
    let shared = pw.lines();

    // The week after next: second fix, apart to the end.
    pw.open("second", &shared);
    th.open("second", &shared);
    second_fix::flat_a(&mut pw);
    second_fix::studio(&mut th);
    second_fix::what_one_did(&mut pw);
    second_fix::what_the_other_did(&mut th);
    racks::hang(&mut th);

    pw.take(&th.lines());
    pw.lines()
}
