//! What a scanned tag says, and at which end whoever scans stands.

use bothends::codes::tag::{JobKey, TagText, Tagged};
use bothends::command::{CopperTest, Want};
use bothends::domain::ids::{Bits80, JobId};
use bothends::domain::label::{OutletCode, OutletNumber, PanelLetters, RoomCode};
use bothends::domain::medium::{Kind, Medium};
use bothends::domain::place::{End, Side};
use bothends::domain::work::{MarkKind, PullOutcome, TestMethod, TestOutcome};
use bothends::query::cable::view;
use bothends::query::find::{Target, cables_of};
use bothends::query::scan::{
    Here, NextHere, Stand, alone, end_here, left_here, next_here, read, read_alone,
};

use crate::mill::Mill;

fn mill() -> Mill {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 3);
    mill.rack(2, "A", "Loft rack");
    mill
}

#[test]
fn a_good_tag_names_its_cable_and_says_no_more() {
    let mill = mill();
    let scanned = read(&mill.journal, &mill.tag_text("KIT2-B"), None);
    assert_eq!(scanned.targets, [Target::Cable(mill.cable("KIT2-B"))]);
    assert_eq!(scanned.shown, "KIT2-B");
    assert!(scanned.holds && scanned.said.is_empty() && scanned.nearest.is_empty());
}

#[test]
fn a_void_tag_says_since_when_and_why() {
    let mut mill = mill();
    let old = mill.tag_text("KIT2-B");
    mill.does(&Want::Repull {
        cable: mill.cable("KIT2-B"),
        reason: "Drilled through".to_owned(),
    });
    let scanned = read(&mill.journal, &old, None);
    assert!(!scanned.holds);
    assert_eq!(scanned.targets, [Target::Cable(mill.cable("KIT2-B"))]);
    assert_eq!(
        scanned.said,
        [
            "This tag is void: KIT2-B was pulled anew since (MW, 2026-03-02 00:00: Drilled through). It hangs on the old cable. Take it off, and mark the new one."
        ]
    );
    let new = read(&mill.journal, &mill.tag_text("KIT2-B"), None);
    assert!(new.holds);
}

#[test]
fn a_tag_with_a_wrong_character_is_told_from_what_it_nearly_is() {
    let mill = mill();
    let good = mill.tag_text("KIT2-B");
    let near = |text: &str| read(&mill.journal, text, None);
    // Every single wrong character of the part that names no outlet of its own.
    let at = good.find(' ').expect("a space") + 3;
    let wrong: String = good
        .chars()
        .enumerate()
        .map(|(place, c)| match (place == at, c) {
            (true, '7') => '8',
            (true, _) => '7',
            (false, c) => c,
        })
        .collect();
    let scanned = near(&wrong);
    assert!(!scanned.holds);
    // Nothing of it is taken for sure; what it may be is offered.
    assert!(scanned.targets.is_empty());
    assert!(
        scanned
            .nearest
            .contains(&Target::Cable(mill.cable("KIT2-B")))
    );
    assert!(
        scanned.said[0].contains("at least one character is wrong"),
        "{:?}",
        scanned.said
    );
    // A code that does not exist is told from those that nearly do.
    let scanned = near("KIT2-X");
    assert!(scanned.targets.is_empty());
    let nearest: Vec<_> = scanned.nearest.iter().collect();
    assert!(
        nearest.contains(&&Target::Cable(mill.cable("KIT2-A"))),
        "{nearest:?}"
    );
    assert!(nearest.len() <= 4);
}

#[test]
fn what_is_typed_is_read_as_people_write_it() {
    let mill = mill();
    let kitchen = RoomCode::new("KIT").expect("a code");
    for (text, room) in [("kit2b", None), ("KIT 2 B", None), ("2b", Some(kitchen))] {
        let scanned = read(&mill.journal, text, room);
        assert_eq!(
            scanned.targets.first(),
            Some(&Target::Cable(mill.cable("KIT2-B"))),
            "{text}"
        );
        assert!(!scanned.holds, "a code that was typed proves no tag");
    }
}

#[test]
fn a_tag_of_another_job_names_nothing_here() {
    let mill = mill();
    let other = JobId(Bits80(*b"Oatlingrow"));
    let outlet = mill.registry().outlet_code(mill.outlet_id("KIT", 2));
    let text = TagText {
        tagged: Tagged::Outlet(outlet.expect("a code")),
        job_key: JobKey::of(other),
    };
    let scanned = read(&mill.journal, &text.to_string(), None);
    assert!(scanned.targets.is_empty() && !scanned.holds);
    assert_eq!(scanned.other_job, Some(JobKey::of(other)));
    assert!(
        scanned.said[0].contains("is of another job"),
        "{:?}",
        scanned.said
    );
}

#[test]
fn a_hostile_text_is_cut_and_shown_and_names_nothing() {
    let mill = mill();
    let long = "A".repeat(5_000);
    for text in [
        "javascript:alert(1)",
        "<img src=x onerror=alert(1)>",
        "https://example.org/KIT2-B",
        "\u{202E}B-2TIK",
        "KIT2-B\u{0}",
        long.as_str(),
        "",
    ] {
        let scanned = read(&mill.journal, text, None);
        assert!(!scanned.holds, "{text:?}");
        assert!(
            scanned.targets.is_empty(),
            "{text:?}: {:?}",
            scanned.targets
        );
        assert!(!scanned.said.is_empty(), "{text:?}");
        assert!(scanned.shown.chars().count() <= 60, "{}", scanned.shown);
        for words in scanned.said.iter().chain([&scanned.shown]) {
            assert!(!words.contains(['\u{202E}', '\u{0}']), "{words:?}");
            assert!(words.chars().count() < 300, "{words}");
        }
    }
}

#[test]
fn whoever_scans_stands_at_the_end_that_is_there() {
    let mut mill = mill();
    let [one, two] = [1, 2].map(|number| mill.outlet_id("KIT", number));
    let (main, loft) = (mill.rack_id("1A"), mill.rack_id("2A"));
    let home = mill.cable("KIT1-A");
    mill.does(&Want::RouteHome {
        cables: vec![home],
        rack: Some(main),
    });
    let local = mill.cable("KIT2-A");
    mill.does(&Want::RouteLocal {
        cable: local,
        from: one,
    });
    mill.does(&Want::AddTie {
        near: main,
        far: loft,
        medium: Medium::indoor(Kind::Cat6Utp),
        purpose: String::new(),
    });
    let tie = mill.cable("1A/2A-1");
    let (near, far) = (Here::End(Side::Near), Here::End(Side::Far));
    let (kitchen, store) = (mill.room_id("KIT"), mill.room_id("KITS"));
    for (cable, stand, here) in [
        (home, Stand::Unknown, Here::Unknown),
        (home, Stand::Wall, near),
        (home, Stand::Room(kitchen), near),
        (home, Stand::Room(store), Here::Elsewhere),
        (home, Stand::Outlet(one), near),
        (home, Stand::Outlet(two), Here::Elsewhere),
        (home, Stand::Rack(main), far),
        (home, Stand::Rack(loft), Here::Elsewhere),
        (local, Stand::Wall, Here::Unknown),
        (local, Stand::Room(kitchen), Here::Unknown),
        (tie, Stand::Room(kitchen), Here::Elsewhere),
        (local, Stand::Outlet(two), near),
        (local, Stand::Outlet(one), far),
        (local, Stand::Rack(main), Here::Elsewhere),
        (tie, Stand::Wall, Here::Elsewhere),
        (tie, Stand::Rack(main), near),
        (tie, Stand::Rack(loft), far),
    ] {
        assert_eq!(
            end_here(mill.registry(), cable, stand),
            here,
            "{cable:?} at {stand:?}"
        );
    }
}

#[test]
fn a_tag_says_by_itself_what_it_hangs_on() {
    let outlet = OutletCode {
        room: RoomCode::new("KIT").expect("a code"),
        number: OutletNumber::new(2).expect("a number"),
    };
    let job_key = JobKey::of(JobId(Bits80(*b"Oatlingrow")));
    let says = |tagged| alone(&TagText { tagged, job_key }).join(" ");
    let key = format!("It is of a job whose tags carry {job_key}.");
    assert_eq!(
        says(Tagged::Outlet(outlet)),
        format!("It is outlet 2 in the room KIT. {key}")
    );
    assert_eq!(
        says(Tagged::Panel(PanelLetters::new("B").expect("letters"))),
        format!("It is panel B. {key}")
    );
    assert_eq!(says(Tagged::Conduit(4)), format!("It is conduit 4. {key}"));
    assert_eq!(
        says(Tagged::Box(3)),
        format!("It is box or spool 3 that cable is drawn from. {key}")
    );
}

#[test]
fn the_tag_of_a_conduit_names_the_conduit_and_that_of_a_box_the_box() {
    let mut mill = mill();
    let conduit = mill.conduit("the attic", &["KIT1-A"]);
    let cable = mill.cable("KIT2-B");
    mill.does(&Want::DrawFrom { cable, number: 3 });
    let job_key = JobKey::of(mill.journal.job());
    let scanned = |tagged| {
        let text = TagText { tagged, job_key }.to_string();
        read(&mill.journal, &text, None)
    };
    let of_conduit = scanned(Tagged::Conduit(1));
    assert_eq!(of_conduit.targets, [Target::Conduit(conduit)]);
    assert!(of_conduit.holds && of_conduit.said.is_empty());
    assert_eq!(of_conduit.shown, "CD1");
    assert_eq!(scanned(Tagged::Box(3)).targets, [Target::Box(3)]);
    let cables = |target| cables_of(mill.registry(), target);
    assert_eq!(cables(Target::Conduit(conduit)), [mill.cable("KIT1-A")]);
    assert_eq!(cables(Target::Box(3)), [cable]);
}

/// The mill with a flat's bedroom, `ABED`, of two outlets.
fn flat() -> Mill {
    let mut mill = mill();
    mill.room("Bedroom of flat A", "ABED");
    mill.outlets("ABED", "data", 2);
    mill
}

#[test]
fn what_is_nearly_a_code_or_a_tag_is_told_from_what_it_nearly_is() {
    let mill = flat();
    let target = Target::Cable(mill.cable("ABED1-A"));
    let tag = mill.tag_text("ABED1-A");
    let without_last = &tag[..tag.len() - 1];
    let group = tag.rsplit(' ').next().expect("a group");
    let small = group.to_lowercase();
    let short = &group[..7];
    for text in [
        without_last,
        group,
        &small,
        short,
        "ABED9-Z",
        "abd1a",
        "ABDE1-A",
    ] {
        let scanned = read(&mill.journal, text, None);
        assert_eq!(scanned.targets, [], "{text}");
        assert!(scanned.nearest.contains(&target), "{text}: {scanned:?}");
        assert!(!scanned.holds && !scanned.foreign, "{text}");
        assert!(!scanned.said.is_empty() && scanned.nearest.len() <= 4);
    }
    // The second part alone names its cable before all others.
    assert_eq!(read(&mill.journal, group, None).nearest[0], target);
    // With a space where codes have none it is the same code still.
    for text in ["A bed 1 A", "a bed1a", "ABED 1-A"] {
        let scanned = read(&mill.journal, text, None);
        assert_eq!(
            scanned.targets.first(),
            Some(&target),
            "{text}: {scanned:?}"
        );
        assert!(!scanned.holds, "{text}");
    }
}

#[test]
fn a_character_of_no_code_is_named_and_never_left_out() {
    let mill = flat();
    let target = Target::Cable(mill.cable("ABED1-A"));
    // The last is a Cyrillic letter that looks like the Latin one.
    let like = read(&mill.journal, "ABED1-\u{410}", None);
    assert_eq!(like.targets.first(), Some(&target), "{like:?}");
    for text in ["ABED1-Ж", "ABED1-É", "ABED1-★"] {
        let scanned = read(&mill.journal, text, None);
        assert_eq!(scanned.targets, [], "{text}: not the outlet without it");
        assert!(!scanned.nearest.is_empty(), "{text}");
        let character = text.chars().last().expect("one");
        let said = scanned.said.join(" ");
        assert!(said.contains(character), "{said}");
    }
    let named = read(&mill.journal, "ABED1-Ж", None).said.join(" ");
    assert!(named.starts_with("“Ж” stands in no code."), "{named}");
}

#[test]
fn what_is_left_to_be_seen_is_counted_and_named_where_somebody_stands() {
    let mut mill = mill();
    let outlet = mill.outlet_id("KIT", 2);
    let stand = Stand::Outlet(outlet);
    let ends: Vec<End> = ["KIT2-A", "KIT2-B"]
        .map(|code| End::whole(mill.cable(code), Side::Near))
        .to_vec();
    assert_eq!(left_here(mill.registry(), Stand::Unknown).tagged, 0);
    mill.does(&Want::MarkEnds {
        ends: ends.clone(),
        kind: MarkKind::Pen,
        copies: 2,
    });
    let here = left_here(mill.registry(), stand);
    assert_eq!(
        (here.tagged, here.unseen.join(" ")),
        (2, "KIT2-A KIT2-B".to_owned())
    );
    let (end, at) = (ends[0], "KIT2".to_owned());
    mill.does(&Want::SeeEnd { end, at });
    let here = left_here(mill.registry(), stand);
    assert_eq!(
        (here.tagged, here.unseen.join(" ")),
        (2, "KIT2-B".to_owned())
    );
}

#[test]
fn what_is_far_from_any_code_names_none() {
    let mill = flat();
    for text in [
        "https://example.org/menu",
        "WIFI:S:guest;T:WPA;;",
        "5901234123457",
    ] {
        let scanned = read(&mill.journal, text, None);
        assert!(scanned.foreign, "{text}: {scanned:?}");
        assert!(scanned.targets.is_empty() && scanned.nearest.is_empty());
    }
}

#[test]
fn without_a_job_a_code_says_what_its_form_says() {
    let mill = flat();
    for (text, said) in [
        (
            "KIT2-C",
            "By its form it names cable C of outlet 2 in the room KIT.",
        ),
        (
            "kit2c",
            "By its form it names cable C of outlet 2 in the room KIT.",
        ),
        ("KIT2", "By its form it names outlet 2 in the room KIT."),
        (
            "1A/2A-3",
            "By its form it names cable 3 between the racks in 1A and 2A.",
        ),
    ] {
        let scanned = read_alone(text);
        assert_eq!(scanned.said, [said], "{text}");
        assert!(scanned.wants_job && scanned.other_job.is_none() && !scanned.holds);
    }
    // A wrong check character is told, and what the code says all the same.
    let good = mill.tag_text("ABED1-A");
    let last = if good.ends_with('7') { '8' } else { '7' };
    let wrong = format!("{}{last}", &good[..good.len() - 1]);
    let scanned = read_alone(&wrong);
    assert!(scanned.said[0].contains("at least one character is wrong"));
    assert_eq!(
        scanned.said[1],
        "By its form it names cable A of outlet 1 in the room ABED."
    );
    assert!(scanned.wants_job);
    for foreign in ["https://example.org/KIT2-B", "Speakers here", ""] {
        let scanned = read_alone(foreign);
        assert!(
            !scanned.wants_job && scanned.said.len() == 1,
            "{foreign}: {scanned:?}"
        );
    }
}

#[test]
fn what_is_next_follows_from_where_one_stands_and_what_is_done() {
    let mut mill = mill();
    let id = mill.cable("KIT1-A");
    let [near, far] = Side::BOTH.map(|side| End::whole(id, side));
    let tag = mill.tag_text("KIT1-A");
    let next = |mill: &Mill, here| {
        let scanned = read(&mill.journal, &tag, None);
        let next = view(&mill.journal, id).expect("a cable").next;
        next_here(mill.registry(), id, &scanned, here, next)
    };
    let at = |end: End| Here::End(end.side);
    assert_eq!(
        next(&mill, at(near)),
        NextHere::OfCable,
        "it is pulled first"
    );
    mill.does(&Want::ReportPull {
        cables: vec![id],
        outcome: PullOutcome::Pulled,
    });
    assert_eq!(next(&mill, at(near)), NextHere::Mark(near));
    assert_eq!(next(&mill, Here::Unknown), NextHere::OfCable);
    assert_eq!(next(&mill, Here::Elsewhere), NextHere::Nothing);
    let marks = |mill: &mut Mill, end| {
        mill.does(&Want::MarkEnds {
            ends: vec![end],
            kind: MarkKind::Printed,
            copies: 2,
        });
    };
    marks(&mut mill, near);
    assert_eq!(
        next(&mill, at(far)),
        NextHere::Mark(far),
        "each end for itself"
    );
    marks(&mut mill, far);
    assert_eq!(
        next(&mill, at(near)),
        NextHere::Fix(near),
        "a printed tag is not on yet"
    );
    let fixed = |mill: &mut Mill| {
        mill.does(&Want::MarkEnds {
            ends: vec![near, far],
            kind: MarkKind::Fixed,
            copies: 2,
        });
    };
    fixed(&mut mill);
    assert!(matches!(next(&mill, at(near)), NextHere::Land(end, Some(_)) if end == near));
    assert_eq!(
        next(&mill, at(far)),
        NextHere::Land(far, None),
        "nothing is planned"
    );
    mill.land("KIT1-A", "B07");
    assert_eq!(next(&mill, at(far)), NextHere::Test);
    mill.does(&Want::TestCable {
        cable: id,
        test: CopperTest {
            method: TestMethod::WireMap,
            outcome: TestOutcome::Passed,
            note: String::new(),
        },
    });
    assert_eq!(next(&mill, at(far)), NextHere::Nothing);
    assert_eq!(next(&mill, Here::Unknown), NextHere::OfCable);
    // Lifted and landed anew, it is to be tested again.
    mill.does(&Want::Lift { end: far });
    mill.land("KIT1-A", "B07");
    assert_eq!(next(&mill, at(far)), NextHere::Test);
    mill.does(&Want::LoseTag { end: far });
    assert_eq!(
        next(&mill, at(far)),
        NextHere::Print,
        "a lost tag is printed"
    );
    // A void tag: the new cable is marked, and where it is, its new tag is printed.
    mill.does(&Want::Repull {
        cable: id,
        reason: "Drilled through".to_owned(),
    });
    mill.does(&Want::ReportPull {
        cables: vec![id],
        outcome: PullOutcome::Pulled,
    });
    assert_eq!(next(&mill, at(near)), NextHere::Mark(near));
    marks(&mut mill, near);
    assert_eq!(next(&mill, at(near)), NextHere::Print);
    assert_eq!(next(&mill, Here::Unknown), NextHere::OfCable);
    fixed(&mut mill);
    assert_eq!(next(&mill, Here::Unknown), NextHere::Print);
}
