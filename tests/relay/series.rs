//! A series of codes: in any order, with repeats, gaps, damage and strangers between.

use bothends::codes::qr::{Level, Matrix};
use bothends::relay::{
    Broken, Fault, Gathering, Heard, MARK, MOST_FRAMES, pack, unpack, unpack_within,
};
use proptest::prelude::*;
use sha2::{Digest as _, Sha256};

use crate::support::seeds::runner;

/// Text that deflate can do little with.
fn dense(length: usize) -> String {
    let mut state = 1_u64;
    let mut next = || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        char::from(b' ' + (state >> 57) as u8 % 95)
    };
    (0..length).map(|_| next()).collect()
}

fn gathered(codes: &[String]) -> Result<String, Broken> {
    let mut gathering = Gathering::default();
    for code in codes {
        gathering.hear(code).expect("a piece");
    }
    unpack(&gathering.whole().expect("all of it"))
}

#[test]
fn codes_are_read_in_any_order_and_as_often_as_they_come() {
    let texts = (0_usize..4000, any::<u64>(), "[ -~äß\n]{0,40}");
    let checked = runner(60).run(&texts, |(length, seed, tail)| {
        let text = dense(length) + &tail;
        let codes = pack(&text).expect("short");
        let mut order: Vec<usize> = (0..codes.len()).chain(0..codes.len() / 2).collect();
        order.sort_by_key(|at| (*at as u64 + 1).wrapping_mul(seed | 1));
        let shuffled: Vec<String> = order.iter().map(|at| codes[*at].clone()).collect();
        prop_assert_eq!(gathered(&shuffled), Ok(text));
        Ok(())
    });
    if let Err(failure) = checked {
        panic!("{failure}");
    }
}

#[test]
fn progress_counts_each_code_once_and_the_last_is_told() {
    let codes = pack(&dense(1000)).expect("short");
    let mut gathering = Gathering::default();
    assert!(gathering.is_empty());
    let of = codes.len();
    assert!(of > 2);
    for (at, code) in codes.iter().enumerate() {
        let heard = if at + 1 == of { Heard::All } else { Heard::New };
        assert_eq!(gathering.hear(code), Ok(heard));
        assert_eq!(gathering.progress(), (at + 1, of));
        if at + 1 < of {
            assert_eq!(gathering.hear(code), Ok(Heard::Known));
        }
    }
}

#[test]
fn a_code_has_the_version_that_it_is_made_for() {
    let codes = pack(&dense(1000)).expect("short");
    let matrix = Matrix::of(&codes[0]).expect("it fits");
    assert_eq!((matrix.version(), matrix.level()), (13, Level::M));
    assert!(codes.iter().all(|code| code.starts_with(MARK)));
}

#[test]
fn another_series_begins_anew() {
    let first = pack(&dense(1000)).expect("short");
    let second = pack(&dense(1100)).expect("short");
    let mut gathering = Gathering::default();
    gathering.hear(&first[0]).expect("a piece");
    gathering.hear(&first[1]).expect("a piece");
    assert_eq!(gathering.hear(&second[1]), Ok(Heard::New));
    assert_eq!(gathering.progress(), (1, second.len()));
}

#[test]
fn what_is_no_piece_says_why() {
    let code = pack("a day's work").expect("short").remove(0);
    let mut gathering = Gathering::default();
    let mut hear = |text: &str| gathering.hear(text);
    assert_eq!(hear("KIT2-C HM26K4X9"), Err(Fault::NotOurs));
    assert_eq!(hear("BOTHENDS"), Err(Fault::NotOurs));
    assert_eq!(hear("BOTHENDS2:ABC"), Err(Fault::Newer));
    for wrong in ["", "ABC", "GGW", "::::::::::::::::::::::::"] {
        assert_eq!(hear(&format!("{MARK}{wrong}")), Err(Fault::Damaged));
    }
    // Every single character that is read as another one shows.
    for at in MARK.len()..code.len() {
        let mut wrong = code.clone().into_bytes();
        wrong[at] = if wrong[at] == b'0' { b'1' } else { b'0' };
        let wrong = String::from_utf8(wrong).expect("plain");
        assert_eq!(hear(&wrong), Err(Fault::Damaged), "{at}");
    }
    assert!(gathering.is_empty());
}

#[test]
fn a_missing_code_makes_nothing_whole() {
    let codes = pack(&dense(1000)).expect("short");
    let mut gathering = Gathering::default();
    for code in &codes[1..] {
        gathering.hear(code).expect("a piece");
    }
    assert_eq!(gathering.whole(), Err(Fault::Damaged));
}

#[test]
fn what_inflates_beyond_all_measure_is_refused() {
    let bomb = pack(&"0".repeat(200_000)).expect("it deflates well");
    let mut gathering = Gathering::default();
    for code in &bomb {
        gathering.hear(code).expect("a piece");
    }
    let packed = gathering.whole().expect("all of it");
    assert!(packed.len() < 1000);
    assert_eq!(unpack_within(&packed, 199_999), Err(Broken::TooLong));
    assert_eq!(
        unpack_within(&packed, 200_000).map(|text| text.len()),
        Ok(200_000)
    );
    assert_eq!(unpack(b"no stream at all"), Err(Broken::Damaged));
    assert_eq!(unpack(&packed[..packed.len() - 9]), Err(Broken::Damaged));
}

#[test]
fn a_series_that_nobody_would_wait_for_is_not_made() {
    let text = dense(1 << 20);
    let told = pack(&text).expect_err("a megabyte");
    assert!(told.codes > usize::from(MOST_FRAMES));
}

/// Found by `cargo run --example fuzz`: a piece with a right check sum that says to be the last of all numbers.
#[test]
fn the_greatest_number_of_a_piece_is_refused() {
    for of in [0, 1, u16::MAX] {
        let mut bytes = vec![0; 4];
        bytes.extend(of.to_be_bytes());
        bytes.extend(u16::MAX.to_be_bytes());
        bytes.push(7);
        let sum = Sha256::digest(&bytes);
        bytes.extend(&sum[..4]);
        let text = MARK.to_owned() + &base45::encode(bytes);
        assert_eq!(
            Gathering::default().hear(&text),
            Err(Fault::Damaged),
            "{of}"
        );
    }
}
