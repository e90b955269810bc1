//! What a phone has of a job.

use bothends::domain::ids::{ActId, Bits80, JobId, WriterId};
use bothends::exchange::known::Known;

fn act(writer: u8, n: u32) -> ActId {
    let writer = WriterId(Bits80([writer; 10]));
    ActId { writer, n }
}

#[test]
fn what_is_there_is_told_apart_from_what_is_not() {
    let known = Known {
        job: JobId(Bits80(*b"MarrowMill")),
        last: vec![act(1, 5), act(3, 1)],
    };
    let read = Known::read(&known.print()).expect("it was printed");
    assert_eq!(read, known);
    for (id, is_there) in [
        (act(1, 1), true),
        (act(1, 5), true),
        (act(1, 6), false),
        (act(2, 1), false),
        (act(3, 1), true),
        (act(3, 2), false),
        (act(4, 1), false),
    ] {
        assert_eq!(read.has(id), is_there, "{id}");
    }
    assert_eq!(Known::read("bothends-known 2 9NGQ4WKFEX6PJV3C\n"), None);
}

/// In whatever order they come, and one writer twice, which the greater number decides.
#[test]
fn lines_in_any_order_are_read() {
    let writer = |number: u8| Bits80([number; 10]).to_string();
    let (one, two) = (writer(1), writer(2));
    let text =
        format!("bothends-known 1 9NGQ4WKFEX6PJV3C\n{two} 1\n{one} 7\nodd\n{one} 3\n{one} -1\n");
    let read = Known::read(&text).expect("a text of ours");
    assert_eq!(read.last, [act(1, 3), act(1, 7), act(2, 1)]);
    assert!(read.has(act(1, 7)) && !read.has(act(1, 8)));
}

#[test]
fn more_writers_than_a_job_has_are_left_out() {
    let line = format!("{} 1\n", Bits80([1; 10]));
    let text = format!(
        "bothends-known 1 9NGQ4WKFEX6PJV3C\n{}",
        line.repeat(100_001)
    );
    let read = Known::read(&text).expect("a text of ours");
    assert_eq!(read.last.len(), 100_000);
}
