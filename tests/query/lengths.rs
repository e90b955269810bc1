//! What the length marks of both ends say: whether they were read right, and whether the cable is too long.

use super::kinds::cases;

#[test]
fn length_marks_give_a_length_that_a_box_holds() {
    let doubtful = "Now KIT1 MarksDoubtful KIT1-A";
    let read = |near: &str, far: &str| format!("read KIT1-A near {near}; read KIT1-A far {far}");
    for (story, said) in [
        (read("500", "500"), doubtful),
        (read("1500", "500"), ""),
        (read("1501", "500"), doubtful),
        (read("806 m", "500 m"), doubtful),
        (read("805 m", "500 m"), ""),
        (read("500", "480 m"), doubtful),
        (read("500", "500") + "; read KIT1-A far 430", ""),
        // What was read twice is so.
        (read("1501", "500") + "; read KIT1-A near 1501", ""),
        (read("1501", "500") + "; repull KIT1-A", ""),
        (read("1501", "500") + "; cancel KIT1-A", ""),
        ("read KIT1-A near 1501".to_owned(), ""),
    ] {
        cases(&[("MarksDoubtful", &story, said)]);
    }
}

/// The longest permanent link is 90 m, or 295 ft: ANSI/TIA-568 and ISO/IEC 11801 (seen in several public documents).
#[test]
fn a_link_of_category_cable_is_at_most_90_metres_long() {
    let long = "BeforeBoard KIT1 TooLong KIT1-A";
    let read = |near: &str, far: &str| format!("read KIT1-A near {near}; read KIT1-A far {far}");
    for (story, said) in [
        (read("500", "205"), ""),
        (read("500", "204"), long),
        (read("204", "500"), long),
        (read("90 m", "0 m"), ""),
        (read("91 m", "0 m"), long),
        // What was hardly read right is read again first.
        (read("1501", "500"), ""),
        (read("1501", "500") + "; read KIT1-A near 1501", long),
        (read("500", "204 m"), ""),
        ("read KIT1-A near 1501".to_owned(), ""),
        // Other cables go farther.
        (read("900", "500") + "; made KIT1-A rg6", ""),
        (read("900", "500") + "; made KIT1-A cat6a-ftp", long),
        // Who certified it knows that it does what it must; a wire map says nothing of it.
        (read("500", "204") + "; test KIT1-A certified", ""),
        (read("500", "204") + "; test KIT1-A passed", long),
        (
            read("500", "204") + "; test KIT1-A certified; test KIT1-A failed",
            long,
        ),
        (read("500", "204") + "; repull KIT1-A", ""),
        (read("500", "204") + "; cancel KIT1-A", ""),
    ] {
        cases(&[("TooLong", &story, said)]);
    }
}
