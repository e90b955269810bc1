//! The demo job as it travels with the app.

use bothends::exchange::heads::in_full;

#[test]
fn a_line_says_only_what_is_more_than_before() {
    let short = "{\"format\":\"bothends-job\"}\n=AAAA\n+1 7 60000,\"by\":\"PW\"}\n+1 2 0,\"by\":\"PW\"}\n=BBBB\n+3 4 5,\"by\":\"TH\"}\n{\"end\":1}\n";
    let full = "{\"format\":\"bothends-job\"}\n\
        {\"v\":1,\"writer\":\"AAAA\",\"n\":1,\"lamport\":7,\"wall\":60000,\"by\":\"PW\"}\n\
        {\"v\":1,\"writer\":\"AAAA\",\"n\":2,\"lamport\":9,\"wall\":60000,\"by\":\"PW\"}\n\
        {\"v\":1,\"writer\":\"BBBB\",\"n\":3,\"lamport\":4,\"wall\":5,\"by\":\"TH\"}\n\
        {\"end\":1}\n";
    assert_eq!(in_full(short), full);
}

#[test]
fn a_job_file_in_full_stays_as_it_is() {
    let full = include_str!("../../demo-data/marrowby-mill.jobfile.txt");
    assert_eq!(in_full(full), full);
}

/// The name of a writer stands in every line that is made, so that a long one would fill the memory.
#[test]
fn no_short_text_becomes_endless() {
    let long = "x".repeat(17);
    let text = format!("={long}\n+1,\n");
    let full = in_full(&text);
    assert!(full.starts_with(&format!("={long}\n")), "{full}");
    assert_eq!(full.matches(&long).count(), 1, "{full}");
}

/// Found by `cargo run --example fuzz`.
#[test]
fn counts_stop_at_the_greatest() {
    let full = in_full("+18446744073709551615 0 0,\n+1 1 1,\n");
    let most = r#""n":18446744073709551615,"#;
    assert_eq!(full.matches(most).count(), 2, "{full}");
}
