//! Small cases for each kind of finding, and the order and the gates of the list.

use bothends::query::{Gate, RoomTally, Tally, check, due, tally};

use super::desk::told;

/// Two racks, three panels, two outlets in a kitchen, two home runs that are planned in full.
const KITCHEN: &str = "room KIT; code KIT KIT; order KIT 1
    rack rackA; space rackA A; rack rackB; space rackB B
    panel B 8p8c; panel D f; panel T alarm
    outlet KIT1; number KIT1 KIT 1; outlet KIT2; number KIT2 KIT 2
    cable KIT1-A; feeds KIT1-A KIT1 A; to KIT1-A rackA; made KIT1-A cat6-utp
    cable KIT2-A; feeds KIT2-A KIT2 A; to KIT2-A rackA; made KIT2-A cat6-utp";

/// Both runs done in full.
const DONE: &str = "pull KIT1-A pulled; mark KIT1-A near KIT1-A; mark KIT1-A far KIT1-A
    pull KIT2-A pulled; mark KIT2-A near KIT2-A; mark KIT2-A far KIT2-A
    land KIT1-A near jack:KIT1:A; land KIT1-A far B01; test KIT1-A passed
    land KIT2-A near jack:KIT2:A; land KIT2-A far B02; test KIT2-A passed";

/// What the check says after a story; of the kinds in `only`, when it names some.
fn found(story: &str, only: &str) -> String {
    let desk = told(story);
    let findings = check(desk.registry());
    let lines = findings.iter().map(|finding| desk.words(finding));
    let kinds: Vec<&str> = only.split_whitespace().collect();
    let wanted = |line: &String| {
        let kind = line.split(' ').nth(2).unwrap_or_default();
        kinds.is_empty() || kinds.contains(&kind)
    };
    lines.filter(wanted).collect::<Vec<_>>().join("; ")
}

/// Each case: the kind, what happens in the kitchen, what the check says of that kind.
pub(super) fn cases(cases: &[(&str, &str, &str)]) {
    for (kind, story, expected) in cases {
        let story = format!("{KITCHEN}\n{story}");
        assert_eq!(found(&story, kind), *expected, "{kind}: {story}");
    }
}

#[test]
fn a_job_that_is_done_has_no_findings() {
    assert_eq!(found(&format!("{KITCHEN}\n{DONE}"), ""), "");
}

#[test]
fn places_take_as_many_ends_as_they_take() {
    cases(&[
        (
            "DoubleClaim",
            "land KIT1-A far B07; land KIT2-A far B07",
            "Now - DoubleClaim B07: KIT1-A far, KIT2-A far",
        ),
        (
            "DoubleClaim",
            "land KIT1-A far B07; land KIT2-A far B07/front",
            "",
        ),
        (
            "DoubleClaim",
            "land KIT1-A far T07; land KIT2-A far T07",
            "",
        ),
        (
            "DoubleClaim",
            "land KIT1-A near jack:KIT1:A; land KIT2-A near jack:KIT1:A",
            "Now KIT1 DoubleClaim jack:KIT1:A: KIT1-A near, KIT2-A near",
        ),
        (
            "DoubleClaim",
            "device switch; land KIT1-A far switch:3; land KIT2-A far switch:3",
            "Now - DoubleClaim switch:3: KIT1-A far, KIT2-A far",
        ),
        (
            "DoubleClaim",
            "land KIT1-A far B07; land KIT2-A far B07; lift KIT1-A far",
            "",
        ),
        (
            "DoubleClaim",
            "land KIT1-A far B07; repull KIT1-A; land KIT2-A far B07",
            "",
        ),
        (
            "DoubleClaim",
            "split KIT1-A far 2; land KIT1-A far.1 B07; land KIT1-A far.2 B07",
            "Now - DoubleClaim B07: KIT1-A far.1, KIT1-A far.2",
        ),
        (
            "PlannedTwice",
            "plan KIT1-A far B07; plan KIT2-A far B07",
            "BeforePull - PlannedTwice B07: KIT1-A far, KIT2-A far",
        ),
        (
            "PlannedTwice",
            "plan KIT1-A far B07; plan KIT2-A far B07; cancel KIT2-A",
            "",
        ),
    ]);
}

#[test]
fn what_hangs_in_a_rack_has_room_there() {
    cases(&[
        // A panel of 24 takes one unit, and so does what hangs right above and behind it.
        (
            "UnitsShared",
            "mount B rackA; at B 5; shelf S rackA 6 1 front; device amp; hang amp rackA 5 1 rear",
            "",
        ),
        (
            "UnitsShared",
            "mount B rackA; at B 5; high B 2; shelf S rackA 6 1 front",
            "Now - UnitsShared rackA Front: B S",
        ),
        // Each meets the next one.
        (
            "UnitsShared",
            "shelf S rackA 2 2 rear; shelf R rackA 3 2 rear; device amp; hang amp rackA 4 3 rear",
            "Now - UnitsShared rackA Rear: amp S R",
        ),
        (
            "UnitsShared",
            "shelf S rackA 2 2 front; shelf R rackB 3 2 front",
            "",
        ),
        (
            "UnitsShared",
            "shelf S rackA 2 2 front; shelf R rackA 3 2 front; out S",
            "",
        ),
        // A board has no rack units.
        (
            "UnitsShared OutsideRack",
            "shelf S rackA 2 2 front; shelf R rackA 2 2 front; built rackA board",
            "",
        ),
        (
            "OutsideRack",
            "built rackA 12; shelf S rackA 12 1 front; shelf R rackA 12 2 rear; shelf Q rackA 0 1 front",
            "Now - OutsideRack rackA R; Now - OutsideRack rackA Q",
        ),
    ]);
}

#[test]
fn people_disagree() {
    cases(&[
        (
            "EndAtTwoPlaces EndDisputed",
            "meanwhile land KIT1-A far B08; land KIT1-A far B07",
            "Now KIT1 EndAtTwoPlaces KIT1-A far: B07, B08",
        ),
        (
            "EndAtTwoPlaces EndDisputed",
            "meanwhile land KIT1-A far B07; land KIT1-A far B07",
            "",
        ),
        (
            "EndAtTwoPlaces EndDisputed",
            "meanwhile spare KIT1-A far later; land KIT1-A far B07",
            "Now KIT1 EndDisputed KIT1-A far",
        ),
        (
            "EndAtTwoPlaces EndDisputed",
            "meanwhile adapt KIT1-A far B07; land KIT1-A far B07",
            "Now KIT1 EndDisputed KIT1-A far",
        ),
        (
            "Disputed",
            "meanwhile made KIT1-A rg6; made KIT1-A cat6-ftp",
            "Now KIT1 Disputed KIT1-A Medium",
        ),
        (
            "Disputed",
            "meanwhile number KIT1 KIT 3; number KIT1 KIT 4; meanwhile code KIT BAR; code KIT POT",
            "Now - Disputed KIT Code; Now KIT1 Disputed KIT1 Number",
        ),
        (
            "Disputed",
            "meanwhile keep B07 bad; keep B07 reserved; meanwhile plan KIT1-A far B01; plan KIT1-A far B02",
            "Now - Disputed B07 Kept; Now KIT1 Disputed KIT1-A far Planned",
        ),
        (
            "Disputed",
            "picture P; meanwhile remark P dark; remark P bright; meanwhile shows P KIT1; shows P KIT1",
            "Now - Disputed P Note",
        ),
        (
            "Disputed",
            "meanwhile box 3 cat6-utp; box 3 rg6; meanwhile box 4 rg6; box 4 rg6",
            "Now - Disputed box 3 Medium",
        ),
        (
            "Disputed",
            "device switch; meanwhile patch B07 switch:1; patch B07 switch:2",
            "Now - Disputed B07 Patched",
        ),
        // A disagreement about a pull that is past is past too.
        (
            "Disputed",
            "meanwhile pull KIT1-A short; pull KIT1-A stuck; repull KIT1-A",
            "",
        ),
        (
            "JoinedTwice",
            "loose 1; loose 2; join 1 KIT1-A far; join 2 KIT1-A far",
            "Now KIT1 JoinedTwice KIT1-A far: loose 1 loose 2",
        ),
        (
            "LooseNumberTwice",
            "loose 1; loose 2; renumber 2 1",
            "Now - LooseNumberTwice loose 1 loose 2",
        ),
        // The number does not matter any more once the cable of one is known.
        (
            "LooseNumberTwice",
            "loose 1; loose 2; renumber 2 1; join 1 KIT1-A far",
            "",
        ),
        (
            "ConduitNumberTwice",
            "conduit 1; conduit 2; conduit 2 is 1; conduit 1 cancelled",
            "Now - ConduitNumberTwice conduit 1 conduit 2",
        ),
        // Nobody meets a tag of either.
        (
            "ConduitNumberTwice",
            "conduit 1; conduit 2; conduit 2 is 1; conduit 1 cancelled; conduit 2 cancelled",
            "",
        ),
    ]);
}

#[test]
fn a_code_stands_for_one_thing() {
    cases(&[
        (
            "CodeTwice",
            "cable second; feeds second KIT1 A",
            "Now - CodeTwice KIT1-A second",
        ),
        // A run that is out of the job claims its code where that is written on it.
        (
            "CodeTwice",
            "mark KIT1-A near KIT1-A; cancel KIT1-A; cable second; feeds second KIT1 A",
            "Now - CodeTwice KIT1-A second",
        ),
        (
            "CodeTwice",
            "cancel KIT1-A; cable second; feeds second KIT1 A",
            "",
        ),
        (
            "CodeTwice",
            "undo cable KIT1-A; cable second; feeds second KIT1 A",
            "",
        ),
        ("OutletCodeTwice", "number KIT2 KIT 1; cancel KIT1", ""),
        (
            "OutletCodeTwice",
            "mark KIT1-A near KIT1-A; number KIT2 KIT 1; cancel KIT1",
            "Now - OutletCodeTwice KIT1 KIT2",
        ),
        (
            "CodeTwice",
            "mark KIT2-A near KIT1-A",
            "Now - CodeTwice KIT1-A KIT2-A",
        ),
        // What two outlets of one code have in their boxes is no further finding, while two cables
        // of one outlet are.
        (
            "CodeTwice OutletCodeTwice",
            "number KIT2 KIT 1; feeds KIT2-A KIT2 A",
            "Now - OutletCodeTwice KIT1 KIT2",
        ),
        (
            "CodeTwice OutletCodeTwice",
            "number KIT2 KIT 1; cable second; feeds second KIT1 A",
            "Now - CodeTwice KIT1-A KIT2-A second; Now - OutletCodeTwice KIT1 KIT2",
        ),
        (
            "OutletCodeTwice",
            "number KIT2 KIT 1",
            "Now - OutletCodeTwice KIT1 KIT2",
        ),
        (
            "RoomCodeTwice",
            "room LOFT; code LOFT KIT",
            "Now - RoomCodeTwice KIT LOFT",
        ),
        (
            "PanelLettersTwice",
            "panel second lettered B",
            "Now - PanelLettersTwice B second",
        ),
        (
            "SpaceTwice",
            "space rackB A",
            "Now - SpaceTwice rackA rackB",
        ),
        ("CodeTwice OutletCodeTwice RoomCodeTwice", "", ""),
    ]);
}

#[test]
fn tags_say_the_code() {
    let kinds = "MarksDiffer CodeMoved";
    cases(&[
        (
            kinds,
            "mark KIT1-A near KIT1-A; mark KIT1-A far KIT1-B",
            "Now KIT1 MarksDiffer KIT1-A",
        ),
        (
            kinds,
            "mark KIT1-A near KIT1-A; mark KIT1-A far KIT1-B; lose KIT1-A far",
            "",
        ),
        (
            kinds,
            "mark KIT1-A near KIT1-A; number KIT1 KIT 5",
            "Now KIT1 CodeMoved KIT1-A",
        ),
        (
            kinds,
            "mark KIT1-A near KIT1-AB; mark KIT1-A far KIT1-AB",
            "Now KIT1 CodeMoved KIT1-A",
        ),
        // Somebody said that it is right so; under another name it is asked about again.
        (
            kinds,
            "mark KIT1-A near KIT1-A; number KIT1 KIT 5; kept KIT1-A KIT1-A KIT5-A",
            "",
        ),
        (
            kinds,
            "mark KIT1-A near KIT1-A; number KIT1 KIT 5; kept KIT1-A KIT1-A KIT5-A; number KIT1 KIT 6",
            "Now KIT1 CodeMoved KIT1-A",
        ),
        (
            kinds,
            "mark KIT1-A near KIT1-B; kept KIT1-A KIT1-C KIT1-A",
            "Now KIT1 CodeMoved KIT1-A",
        ),
        // The new copper is marked anew, with the code that the run has had all along.
        (
            kinds,
            "mark KIT1-A near KIT1-A; repull KIT1-A; mark KIT1-A near KIT1-B",
            "Now KIT1 MarksDiffer KIT1-A",
        ),
        (
            kinds,
            "mark KIT1-A near KIT1-A; repull KIT1-A; mark KIT1-A near KIT1-A",
            "",
        ),
    ]);
}

#[test]
fn work_on_what_is_gone_is_shown() {
    cases(&[
        (
            "WorkOnWithdrawn NotPulled",
            "pull KIT1-A pulled; undo cable KIT1-A; pull KIT2-A pulled",
            "Now KIT1 WorkOnWithdrawn KIT1-A",
        ),
        ("WorkOnWithdrawn", "undo cable KIT1-A", ""),
        (
            "WorkOnCancelled NotPulled",
            "land KIT1-A far B07; cancel KIT1-A; pull KIT2-A pulled",
            "Now KIT1 WorkOnCancelled KIT1-A",
        ),
        (
            "WorkOnCancelled",
            "land KIT1-A far B07; lift KIT1-A far; cancel KIT1-A",
            "",
        ),
        (
            "OutletGone NotPulled",
            "cancel KIT1; pull KIT2-A pulled",
            "BeforePull KIT1 OutletGone KIT1-A",
        ),
        (
            "OutletGone",
            "undo feeds KIT1-A KIT1 A",
            "BeforePull - OutletGone KIT1-A",
        ),
        (
            "LocalRunOpen OutletGone",
            "to KIT1-A KIT2; cancel KIT2",
            "BeforePull KIT1 LocalRunOpen KIT1-A; BeforePull KIT2 OutletGone KIT2-A",
        ),
        ("LocalRunOpen", "to KIT1-A KIT2", ""),
    ]);
}

#[test]
fn positions_suit_what_lands_on_them() {
    let kinds = "NoSuchPosition LandedOnBad LandedOnReserved Misfit";
    cases(&[
        (
            kinds,
            "land KIT1-A far B13",
            "Now KIT1 NoSuchPosition KIT1-A far B13",
        ),
        (
            kinds,
            "plan KIT1-A far B13",
            "Now KIT1 NoSuchPosition KIT1-A far B13",
        ),
        (
            kinds,
            "land KIT1-A far B12; undo panel B 8p8c",
            "Now KIT1 NoSuchPosition KIT1-A far B12",
        ),
        (
            kinds,
            "keep B07 bad; land KIT1-A far B07",
            "Now KIT1 LandedOnBad KIT1-A far B07",
        ),
        (
            kinds,
            "keep B07 reserved; land KIT1-A far B07",
            "Now KIT1 LandedOnReserved KIT1-A far B07",
        ),
        (
            kinds,
            "keep B07 bad; keep B07 open; land KIT1-A far B07",
            "",
        ),
        (
            kinds,
            "land KIT1-A far D07",
            "Now KIT1 Misfit KIT1-A far D07",
        ),
        (kinds, "adapt KIT1-A far D07", ""),
    ]);
}

#[test]
fn plans_are_complete_before_the_pull() {
    cases(&[
        (
            "CableWithoutCode RoomWithoutCode",
            "undo code KIT KIT; cancel KIT2",
            "BeforePull - RoomWithoutCode KIT; BeforePull KIT1 CableWithoutCode KIT1-A",
        ),
        ("RoomWithoutCode", "room LOFT", ""),
        (
            "CableWithoutMedium",
            "undo made KIT1-A cat6-utp",
            "BeforePull KIT1 CableWithoutMedium KIT1-A",
        ),
        (
            "NoRackChosen",
            "to KIT1-A ?; undo to KIT2-A rackA",
            "BeforePull KIT1 NoRackChosen KIT1-A; BeforePull KIT2 NoRackChosen KIT2-A",
        ),
        // An end that is left on purpose goes to no rack.
        ("NoRackChosen", "to KIT1-A ?; spare KIT1-A far Later", ""),
        // Where it is landed, else meant to land, or the only rack of the job, says it.
        (
            "NoRackChosen",
            "to KIT1-A ?; mount B rackB; land KIT1-A far B01",
            "",
        ),
        (
            "NoRackChosen",
            "to KIT1-A ?; mount B rackB; plan KIT1-A far B01",
            "",
        ),
        (
            "NoRackChosen",
            "to KIT1-A ?; mount B rackB; land KIT1-A near B02; plan KIT1-A near B01",
            "BeforePull KIT1 NoRackChosen KIT1-A",
        ),
        ("NoRackChosen", "undo rack rackB; to KIT1-A ?", ""),
        (
            "NoRackChosen",
            "undo rack rackB; undo rack rackA; to KIT1-A ?; cancel KIT2",
            "BeforePull KIT1 NoRackChosen KIT1-A",
        ),
        (
            "NoRackChosen",
            "cable tie; ties tie rackA rackB; undo rack rackB",
            "BeforePull - NoRackChosen tie",
        ),
        (
            "OutletWithoutCables",
            "cancel KIT2-A; outlet KIT3; number KIT3 KIT 3",
            "BeforePull KIT2 OutletWithoutCables KIT2; BeforePull KIT3 OutletWithoutCables KIT3",
        ),
        ("OutletWithoutCables", "cancel KIT2-A; to KIT1-A KIT2", ""),
        (
            "OutletWithoutRoom",
            "undo number KIT2 KIT 2; undo room KIT",
            "BeforePull KIT1 OutletWithoutRoom KIT1; BeforePull KIT2 OutletWithoutRoom KIT2",
        ),
        // Their cables have their codes once the outlets are put right.
        (
            "CableWithoutCode OutletWithoutRoom",
            "undo room KIT; undo code KIT KIT; cancel KIT2",
            "BeforePull KIT1 OutletWithoutRoom KIT1",
        ),
    ]);
}

#[test]
fn nothing_is_missing_before_the_board() {
    cases(&[
        (
            "NotPulled PullTrouble",
            "pull KIT1-A pulled; pull KIT2-A short",
            "Now KIT2 PullTrouble KIT2-A Short",
        ),
        (
            "NotPulled",
            "pull KIT1-A pulled",
            "BeforeBoard KIT2 NotPulled KIT2-A",
        ),
        // What is landed was pulled, unless somebody says that it went wrong.
        (
            "NotPulled PullTrouble",
            "land KIT1-A far B07; land KIT2-A far B08; pull KIT2-A short",
            "Now KIT2 PullTrouble KIT2-A Short",
        ),
        (
            "NotPulled",
            "land KIT1-A far B07; lift KIT1-A far; pull KIT2-A pulled",
            "BeforeBoard KIT1 NotPulled KIT1-A",
        ),
        // So was what passed its test, and what was found as a loose end; a tag proves nothing.
        (
            "NotPulled",
            "test KIT1-A passed; test KIT2-A failed",
            "BeforeBoard KIT2 NotPulled KIT2-A",
        ),
        (
            "NotPulled",
            "loose 1; join 1 KIT1-A far; mark KIT2-A near KIT2-A; mark KIT2-A far KIT2-A",
            "BeforeBoard KIT2 NotPulled KIT2-A",
        ),
        (
            "NotPulled",
            "loose 1; join 1 KIT1-A far; test KIT1-A passed; repull KIT1-A; pull KIT2-A pulled",
            "BeforeBoard KIT1 NotPulled KIT1-A",
        ),
        // One pull, two cables.
        (
            "NotPulled",
            "jacket grey KIT1-A KIT2-A; pull KIT1-A pulled",
            "",
        ),
        (
            "NotPulled",
            "jacket grey KIT1-A KIT2-A; pull KIT1-A pulled; repull KIT2-A",
            "BeforeBoard KIT2 NotPulled KIT2-A",
        ),
        (
            "NotMarked",
            "mark KIT1-A near KIT1-A; mark KIT2-A near KIT2-A; mark KIT2-A far KIT2-A",
            "BeforeBoard KIT1 NotMarked KIT1-A far",
        ),
        (
            "NotMarked",
            "mark KIT1-A near KIT1-A; mark KIT1-A far KIT1-A; lose KIT1-A far; cancel KIT2-A",
            "BeforeBoard KIT1 NotMarked KIT1-A far",
        ),
        (
            "NotMarked",
            "mark KIT1-A near KIT1-A; lose KIT1-A far; mark KIT1-A far KIT1-A; cancel KIT2-A",
            "",
        ),
        // A tag that is printed is not on the cable.
        (
            "NotMarked",
            "mark KIT1-A near KIT1-A; print KIT1-A near KIT1-A; print KIT1-A far KIT1-A; cancel KIT2-A",
            "BeforeBoard KIT1 NotMarked KIT1-A far",
        ),
        (
            "LooseEndOpen",
            "loose 1; loose 2; join 2 KIT1-A near",
            "BeforeBoard - LooseEndOpen loose 1",
        ),
        (
            "LooseEndOpen",
            "loose 2; join 2 KIT1-A near; undo cable KIT1-A",
            "BeforeBoard - LooseEndOpen loose 2",
        ),
    ]);
}

#[test]
fn ends_are_landed_and_proved() {
    let ends = "NotLanded NotVerified TestFailed SpareWithoutReason DeadWithoutReason";
    let far = "land KIT2-A far B02; land KIT2-A near jack:KIT2:A; test KIT2-A passed";
    let story = |story: &str| format!("{far}; {story}");
    let table = [
        (
            "land KIT1-A near jack:KIT1:A",
            "BeforeTrim KIT1 NotLanded KIT1-A far; BeforeTrim KIT1 NotVerified KIT1-A",
        ),
        (
            "land KIT1-A far B01; test KIT1-A passed",
            "BeforeHandover KIT1 NotLanded KIT1-A near",
        ),
        ("land KIT1-A far B01; spare KIT1-A near for later", ""),
        (
            "land KIT1-A far B01; spare KIT1-A near",
            "BeforeHandover KIT1 SpareWithoutReason KIT1-A near",
        ),
        (
            "dead KIT1-A far; dead KIT1-A near drilled",
            "BeforeHandover KIT1 DeadWithoutReason KIT1-A far",
        ),
        (
            "land KIT1-A near jack:KIT1:A; split KIT1-A far 2; land KIT1-A far.1 T01; test KIT1-A passed",
            "BeforeTrim KIT1 NotLanded KIT1-A far.2",
        ),
        (
            "to KIT1-A KIT2; test KIT1-A passed",
            "BeforeHandover KIT1 NotLanded KIT1-A near; BeforeHandover KIT1 NotLanded KIT1-A far",
        ),
        (
            "land KIT1-A far B01; land KIT1-A near jack:KIT1:A; test KIT1-A passed; test KIT1-A failed",
            "Now KIT1 TestFailed KIT1-A",
        ),
        (
            "land KIT1-A far B01; test KIT1-A failed; test KIT1-A passed; land KIT1-A near jack:KIT1:A",
            "",
        ),
        (
            "cancel KIT1-A; cable tie; ties tie rackA rackB; test tie passed",
            "BeforeTrim - NotLanded tie near; BeforeTrim - NotLanded tie far",
        ),
    ];
    for (more, expected) in table {
        let story = story(more);
        cases(&[(ends, story.as_str(), expected)]);
    }
}

#[test]
fn the_list_goes_by_gate_and_then_room_by_room() {
    // The pottery comes first on the walk although it was added last.
    let story = format!(
        "{KITCHEN}\n room POT; order POT 0; code POT POT; outlet POT1; number POT1 POT 1
        cable POT1-A; feeds POT1-A POT1 A; to POT1-A ?
        number KIT1 KIT 9; cancel KIT2-A; cable KIT2-B; feeds KIT2-B KIT2 B; to KIT2-B rackA"
    );
    let desk = told(&story);
    let findings = check(desk.registry());
    let at_the_pull: Vec<_> = due(&findings, Gate::BeforePull)
        .map(|finding| desk.words(finding))
        .collect();
    assert_eq!(
        at_the_pull,
        [
            "BeforePull POT1 CableWithoutMedium POT1-A",
            "BeforePull POT1 NoRackChosen POT1-A",
            "BeforePull KIT2 CableWithoutMedium KIT2-B",
        ]
    );
    let pulls = found(&story, "NotPulled");
    assert_eq!(
        pulls,
        "BeforeBoard POT1 NotPulled POT1-A; BeforeBoard KIT2 NotPulled KIT2-B; \
         BeforeBoard KIT1 NotPulled KIT1-A"
    );
    assert_eq!(due(&findings, Gate::Now).count(), 0);
    assert_eq!(due(&findings, Gate::BeforeHandover).count(), findings.len());
}

#[test]
fn progress_is_counted_by_room() {
    let rooms = |story: &str| -> Vec<Tally> {
        let desk = told(&format!("{KITCHEN}\n{story}"));
        let rooms: Vec<RoomTally> = tally(desk.registry()).rooms;
        rooms.into_iter().map(|row| row.tally).collect()
    };
    let done = Tally {
        cables: 2,
        pulled: 2,
        marked: 2,
        wall_settled: 2,
        rack_settled: 2,
        tested: 2,
    };
    assert_eq!(rooms(DONE), [done]);
    let begun = Tally {
        cables: 1,
        pulled: 1,
        // At the rack it is not marked, but there it is not in the room.
        marked: 1,
        wall_settled: 1,
        tested: 1,
        ..Tally::default()
    };
    let story =
        "cancel KIT2-A; pull KIT1-A pulled; mark KIT1-A near KIT1-A; spare KIT1-A near later";
    assert_eq!(rooms(story), [begun]);
    // A tie line is in no room, and stands last.
    let tie = Tally {
        cables: 1,
        ..Tally::default()
    };
    let story = format!("{DONE}; cable tie; ties tie rackA rackB");
    assert_eq!(rooms(&story), [done, tie]);
}

#[test]
fn one_cord_is_plugged_in_at_one_place() {
    cases(&[
        (
            "PatchedTwice",
            "device switch; patch B07 switch:3; patch B08 switch:3",
            "Now - PatchedTwice switch:3:  B07 B08",
        ),
        (
            "PatchedTwice",
            "device switch; patch B07 switch:3; patch B08 switch:4",
            "",
        ),
        // A cable on the same port of the device.
        (
            "PatchedTwice",
            "device switch; patch B07 switch:3; land KIT1-A far switch:3",
            "Now - PatchedTwice switch:3: KIT1-A far B07",
        ),
        // A cord between two fronts, noted from both: one cord.
        (
            "PatchedTwice",
            "patch B07 B08/front; patch B08 B07/front",
            "",
        ),
        // Two cords at the front of B08.
        (
            "PatchedTwice",
            "device switch; patch B07 B08/front; patch B08 switch:1",
            "Now - PatchedTwice B08/front:  B08 B07",
        ),
        // The rear is a place of its own.
        (
            "PatchedTwice",
            "device switch; patch B07 switch:1; land KIT1-A far B07",
            "",
        ),
        (
            "PatchedTwice",
            "device switch; patch B07 switch:3; patch B08 switch:3; patch B08 nothing",
            "",
        ),
    ]);
}
