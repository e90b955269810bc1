//! The bundle: a job file and pictures come back to the letter, and what is cut or changed is told.

use bothends::domain::picture::Digest;
use bothends::exchange::bundle::{Carried, Finding, Packing, read};
use bothends::journal::picture_digest;

const JOB: &str = "{\"format\":\"bothends-job\"}\n{\"v\":1}\n{\"end\":\"bothends-job\"}\n";

/// Something that begins as a JPEG does.
fn jpeg(seed: u8, length: usize) -> Vec<u8> {
    let rest = (0..length).map(|at| (at as u8).wrapping_mul(seed));
    [0xFF, 0xD8, 0xFF].into_iter().chain(rest).collect()
}

fn picture(seed: u8) -> Carried {
    let whole = jpeg(seed, 700);
    Carried {
        digest: picture_digest(&whole),
        whole,
        small: jpeg(seed, 70),
    }
}

fn packed(pictures: &[Carried]) -> String {
    let mut packing = Packing::default();
    for Carried {
        digest,
        whole,
        small,
    } in pictures
    {
        packing.add(*digest, whole, small);
    }
    assert_eq!(packing.pictures(), pictures.len());
    packing.finish(JOB)
}

#[test]
fn job_and_pictures_come_back_to_the_letter() {
    for count in 0..4 {
        let pictures: Vec<Carried> = (1..=count).map(picture).collect();
        let text = packed(&pictures);
        let bundle = read(text.as_bytes()).expect("a bundle");
        assert_eq!(bundle.job, JOB.as_bytes());
        assert_eq!(bundle.pictures, pictures);
        assert_eq!(bundle.findings, []);
    }
    assert_eq!(read(JOB.as_bytes()), None, "a job file is none");
    assert_eq!(read(b""), None);
}

/// The name and the Base64 are those of any other program: made with `sha256sum` and `base64` of GNU
/// coreutils from the bytes FF D8 FF 00 01 02.
#[test]
fn the_lines_are_those_of_other_programs() {
    let whole = [0xFF, 0xD8, 0xFF, 0, 1, 2];
    let mut packing = Packing::default();
    packing.add(picture_digest(&whole), &whole, &whole[..3]);
    let text = packing.finish("");
    let line = text.lines().nth(1).expect("a picture");
    assert_eq!(
        line,
        "{\"picture\":\"03b70d49139e0ee9121b9aa599be36d4e93e3ac61604974c3fd41e1e22012e58\",\"whole\":\"/9j/AAEC\",\"small\":\"/9j/\"}"
    );
}

#[test]
fn a_cut_file_gives_what_is_whole_and_says_so() {
    let pictures = [picture(1), picture(2)];
    let text = packed(&pictures);
    let last = text.rfind("{\"picture\"").expect("a second picture");
    // In the middle of the second picture: one is whole, one damaged, and the end is missing.
    let bundle = read(&text.as_bytes()[..last + 200]).expect("a bundle");
    assert_eq!(bundle.pictures, pictures[..1]);
    assert_eq!(bundle.findings, [Finding::CutOff, Finding::Damaged(1)]);
    assert_eq!(bundle.job, JOB.as_bytes());
    // In the job file: what is there of it goes on to the reader of job files.
    let bundle = read(&text.as_bytes()[..60]).expect("a bundle");
    assert_eq!(bundle.findings, [Finding::CutOff]);
    assert!(JOB.as_bytes().starts_with(bundle.job));
}

#[test]
fn a_changed_picture_is_left_out() {
    let text = packed(&[picture(1), picture(2)]);
    let at = text.find("\"whole\":\"").expect("a picture") + 40;
    let mut bytes = text.into_bytes();
    bytes[at] = if bytes[at] == b'A' { b'B' } else { b'A' };
    let bundle = read(&bytes).expect("a bundle");
    assert_eq!(bundle.pictures, [picture(2)]);
    assert_eq!(bundle.findings, [Finding::Damaged(1)]);
}

#[test]
fn what_is_no_picture_is_never_taken_for_one() {
    let page = b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>";
    let named: Digest = picture_digest(page);
    let mut packing = Packing::default();
    packing.add(named, page, page);
    let text = packing.finish(JOB);
    let bundle = read(text.as_bytes()).expect("a bundle");
    assert_eq!(bundle.pictures, []);
    assert_eq!(bundle.findings, [Finding::Damaged(1)]);
    // One line that is missing altogether is missed all the same.
    let text = packed(&[picture(1), picture(2)]);
    let without: String = text
        .split_inclusive('\n')
        .enumerate()
        .filter(|(at, _)| *at != 4)
        .map(|(_, line)| line)
        .collect();
    let bundle = read(without.as_bytes()).expect("a bundle");
    assert_eq!(bundle.findings, [Finding::Damaged(1)]);
}

#[test]
fn more_pictures_than_a_job_has_and_lines_beyond_measure_are_told() {
    let picture = picture(1);
    let mut packing = Packing::default();
    for _ in 0..10_001 {
        packing.add(picture.digest, &picture.whole, &picture.small);
    }
    let text = packing.finish(JOB);
    let many = read(text.as_bytes()).expect("a bundle");
    assert_eq!(many.pictures.len(), 10_000);
    assert_eq!(many.findings, [Finding::TooMany]);
    let long = jpeg(1, 25 << 20);
    let mut packing = Packing::default();
    packing.add(picture_digest(&long), &long, &picture.small);
    let text = packing.finish(JOB);
    let read = read(text.as_bytes()).expect("a bundle");
    assert_eq!(read.findings, [Finding::Damaged(1)]);
}
