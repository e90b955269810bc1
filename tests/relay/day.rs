//! How long a day's work takes on the screen: 300 records in less than a minute at five codes a second.

use bothends::domain::ids::{Bits80, JobId};
use bothends::exchange::jobfile;
use bothends::relay::pack;

#[test]
#[expect(clippy::print_stdout, reason = "the figure stands in the measurements")]
fn a_day_of_300_records_is_through_in_a_minute() {
    let demo: &[u8] = include_bytes!("../../demo-data/marrowby-mill.jobfile.txt");
    let lines = jobfile::read(demo).lines;
    // The last ones, as a day in the middle of the work.
    let day = lines[lines.len() - 300..].iter().map(String::as_str);
    let text = jobfile::write(JobId(Bits80(*b"MarrowMill")), "Marrowby Mill", day);
    let codes = pack(&text).expect("short").len();
    println!("300 records: {} bytes, {codes} codes", text.len());
    assert!(codes < 300, "{codes}");
    // A change that doubles what a record takes should be seen.
    assert!(codes < 60, "{codes}");
}
