//! The week after next: second fix. Flat A is finished but for a few ends, the studio nearly so.
//! What the two did apart in this week is what merging brings to light.

use bothends::command::{Correction, Laid, Want};
use bothends::domain::label::{LegNumber, Letter, RoomCode};
use bothends::domain::place::{ConduitEnd, End, Place, Side};
use bothends::domain::work::{Lying, MarkKind, PullOutcome, TestMethod, TestOutcome};
use bothends::journal::Found;

use super::house::new_outlet;
use super::phone::Phone;
use super::racks::fibre_legs;

const FLAT_A: &[&str] = &["AHAL", "AKIT", "ALIV", "ABED", "ASTU", "ABATH"];

pub(super) fn flat_a(pw: &mut Phone) {
    pw.clock(14, 7, 45);
    repull(pw);
    speakers_in_two(pw, "ABED5-A", "ABED5");
    speakers_in_two(pw, "AKIT4-A", "AKIT4");
    future(pw);
    for room in FLAT_A {
        for outlet in pw.outlets(room) {
            // The access point's plate is not there yet, and speakers and the spare are done.
            let apart = ["ALIV1", "ALIV5", "ABED5", "AKIT4"].contains(&outlet.as_str());
            if !apart {
                pw.land_wall(&outlet);
            }
            for side in Side::BOTH {
                pw.mark(&outlet, side, MarkKind::Printed);
                pw.mark(&outlet, side, MarkKind::Fixed);
            }
        }
    }
    let outlet = pw.outlet("ALIV1");
    for letter in ['A', 'B', 'D'] {
        let end = pw.near(&format!("ALIV1-{letter}"));
        let jack = Letter::new(letter).expect("a letter");
        pw.land(end, Place::Jack { outlet, jack });
    }
    pw.clock(15, 8, 0);
    crossed(pw);
    for room in FLAT_A {
        for outlet in pw.outlets(room) {
            // The bed stands before this outlet; it is tested when that is moved.
            if outlet != "ABED3" {
                pw.test(&outlet);
            }
        }
    }
    let end = pw.far("ALIV4-B");
    pw.act(Want::LoseTag { end });
    for code in ["AKIT1-A", "AKIT1-B", "ALIV2-A", "ASTU3-A"] {
        let end = pw.far(code);
        pw.act(Want::SeeEnd {
            end,
            at: "Main rack, rear".to_owned(),
        });
    }
}

/// The plumber's cable: a new one under the old code.
fn repull(pw: &mut Phone) {
    let cable = pw.cable("ABED2-B");
    let reason = "Drilled through by the plumber".to_owned();
    pw.act(Want::Repull { cable, reason });
    let (cables, outcome) = (vec![cable], PullOutcome::Pulled);
    pw.act(Want::ReportPull { cables, outcome });
    pw.measure(cable, 117);
    let ends = Side::BOTH.map(|side| End::whole(cable, side)).to_vec();
    pw.act(Want::MarkEnds {
        ends,
        kind: MarkKind::Pen,
        copies: 2,
    });
    let ends = vec![End::whole(cable, Side::Far)];
    pw.act(Want::LandAsPlanned { ends });
}

/// Four conductors, two speakers.
fn speakers_in_two(pw: &mut Phone, code: &str, at: &str) {
    let (end, outlet) = (pw.near(code), pw.outlet(at));
    let legs = LegNumber::new(2).expect("two legs");
    pw.act(Want::SplitEnd { end, legs });
    for (number, jack) in [(1, 'A'), (2, 'B')] {
        let leg = End {
            leg: LegNumber::new(number),
            ..end
        };
        let jack = Letter::new(jack).expect("a letter");
        pw.land(leg, Place::Jack { outlet, jack });
    }
}

fn future(pw: &mut Phone) {
    let reason = "Future: second screen".to_owned();
    let ends = [
        (pw.near("ALIV1-C"), "Coiled in the box behind the TV"),
        (pw.far("ALIV1-C"), "Coiled on the ladder over the rack"),
    ];
    for (end, kept) in ends {
        pw.act(Want::Spare {
            end,
            kept: kept.to_owned(),
            reason: reason.clone(),
        });
    }
}

/// Found with the toner: two were taken for each other at the rack, two at the wall.
fn crossed(pw: &mut Phone) {
    let [a, b] = ["ASTU1-A", "ASTU1-B"].map(|code| pw.cable(code));
    pw.tested(
        a,
        TestMethod::Toner,
        TestOutcome::Failed,
        "Answers at the other's port",
    );
    let [a, b] = [a, b].map(|cable| End::whole(cable, Side::Far));
    let how = Correction::RecordChanges;
    pw.act(Want::Uncross {
        ends: vec![a, b],
        how,
    });
    let [a, b] = ["AKIT2-A", "AKIT2-B"].map(|code| pw.near(code));
    let how = Correction::TagsMove;
    pw.act(Want::Uncross {
        ends: vec![a, b],
        how,
    });
}

pub(super) fn studio(th: &mut Phone) {
    th.clock(14, 8, 0);
    for outlet in [
        "THROW2", "THROW3", "THROW5", "SHOP1", "SHOP4", "SHOP5", "SHOP6", "SHOP10",
    ] {
        th.land_wall(outlet);
        th.mark(outlet, Side::Near, MarkKind::Fixed);
        th.mark(outlet, Side::Far, MarkKind::Fixed);
    }
    for outlet in ["SHOP1", "SHOP4", "SHOP5", "SHOP6"] {
        th.test(outlet);
    }
    let (end, device) = (th.near("KILN1-A"), th.device("Kiln controller"));
    th.land(
        end,
        Place::Device {
            device,
            port: "LAN".to_owned(),
        },
    );
    let (end, device) = (th.near("KILN1-B"), th.device("Kiln controller"));
    th.land(
        end,
        Place::Device {
            device,
            port: "TC+ and TC-".to_owned(),
        },
    );
    th.clock(15, 8, 30);
    let ends = fibre_legs(th, Side::Far);
    th.act(Want::LandAsPlanned { ends });
    let ends = ["2", "3", "4", "5"].map(|number| th.far(&format!("0A/1A-{number}")));
    th.act(Want::LandAsPlanned {
        ends: ends.to_vec(),
    });
    for number in 2..=4 {
        let cable = th.cable(&format!("0A/1A-{number}"));
        th.tested(cable, TestMethod::WireMap, TestOutcome::Passed, "");
    }
}

/// What one did while the other did not know.
pub(super) fn what_one_did(pw: &mut Phone) {
    pw.clock(16, 8, 0);
    // A second data outlet, on the island. The other adds a camera under the same number.
    let outlet = new_outlet(pw, "CKIT", "data", "Kitchen island");
    let note = "Floor box, conduit is in the screed".to_owned();
    pw.act(Want::NoteOutlet { outlet, note });
    // Flat B at the rack, as planned.
    for outlet in ["BHAL1", "BKIT1", "BLIV2"] {
        // The kitchen is left to the other.
        if outlet != "BKIT1" {
            pw.land_home(outlet);
        }
    }
    // The top bedroom becomes a gallery, and the living room of flat C gets another name.
    let room = pw.room("DBED");
    let code = RoomCode::new("DGAL").expect("a room code");
    pw.act(Want::RecodeRoom { room, code });
    pw.act(Want::RenameRoom {
        room,
        name: "Flat D gallery".to_owned(),
    });
    let room = pw.room("CLIV");
    pw.act(Want::RenameRoom {
        room,
        name: "Flat C hoist room".to_owned(),
    });
    // The short one is pulled anew, and the bedroom thermostat is not wanted any more.
    let cable = pw.cable("CKIT1-B");
    let reason = "Did not reach the box".to_owned();
    pw.act(Want::Repull { cable, reason });
    let (cables, outcome) = (vec![cable], PullOutcome::Pulled);
    pw.act(Want::ReportPull { cables, outcome });
    pw.measure(cable, 149);
    let outlet = pw.outlet("CBED3");
    let reason = "One thermostat for the whole flat".to_owned();
    pw.act(Want::CancelOutlet { outlet, reason });
    let found = Found {
        place: "Speaker wire over the lobby door".to_owned(),
        room: Some(pw.room("LOBBY")),
        ..Found::default()
    };
    pw.act(Want::AddLooseEnd { found });
    conduits(pw);
}

/// The tube under the yard, and one that waits for a later pull to the mast.
fn conduits(pw: &mut Phone) {
    let main = ConduitEnd::Rack(pw.rack(0));
    let gate = ConduitEnd::Outlet(pw.outlet("YARD3"));
    let roof = ConduitEnd::Room(pw.room("ROOF"));
    let lay = |ends, size: &str, note: &str| Want::LayConduit {
        conduit: None,
        number: None,
        laid: Laid {
            ends,
            size: size.to_owned(),
            note: note.to_owned(),
        },
    };
    let conduit = pw.add(lay(
        [main.clone(), gate],
        "40 mm",
        "Under the setts, 600 mm deep",
    ));
    for cable in ["YARD3-A", "YARD3-B", "YARD4-A"] {
        let cable = pw.cable(cable);
        pw.act(Want::PassConduit {
            cable,
            conduit,
            lying: Lying::In,
        });
    }
    let conduit = pw.add(lay([main, roof], "25 mm", ""));
    let cable = pw.cable("ROOF1-D");
    pw.act(Want::PassConduit {
        cable,
        conduit,
        lying: Lying::In,
    });
    pw.act(Want::StringConduit {
        conduit,
        lying: Lying::In,
    });
}

pub(super) fn what_the_other_did(th: &mut Phone) {
    th.clock(16, 8, 10);
    new_outlet(th, "CKIT", "camera", "Back door camera");
    // One position off: the bent one was not counted.
    let (end, place) = (th.far("BKIT1-A"), th.rear("B07"));
    th.land(end, place);
    let (end, place) = (th.far("BLIV2-A"), th.rear("B40"));
    th.land(end, place);
    // The top bedroom is pulled and named by its old code.
    th.pull("DBED1", 188);
    th.mark("DBED1", Side::Near, MarkKind::Pen);
    let room = th.room("CLIV");
    th.act(Want::RenameRoom {
        room,
        name: "Flat C river room".to_owned(),
    });
    // Named at the rack, on the pull that the other gives up.
    let ends = vec![th.far("CKIT1-A"), th.far("CKIT1-B")];
    th.act(Want::MarkEnds {
        ends,
        kind: MarkKind::Pen,
        copies: 2,
    });
    th.pull("CBED3", 139);
    th.mark("CBED3", Side::Near, MarkKind::Pen);
    let found = Found {
        place: "Grey four-pair under the shop counter".to_owned(),
        room: Some(th.room("SHOP")),
        note: "TILL OLD".to_owned(),
        ..Found::default()
    };
    th.act(Want::AddLooseEnd { found });
}
