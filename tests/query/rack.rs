//! Panels as they are drawn from both faces, and what each position says.

use bothends::command::Want;
use bothends::domain::ids::PanelId;
use bothends::domain::medium::Connector;
use bothends::domain::place::{End, Face, Place, Position};
use bothends::domain::work::Availability;
use bothends::journal::{Journal, PanelSize};
use bothends::names;
use bothends::query::rack::{
    FromTop, SlotState, Stretch, counts, free_for, free_with_adapter, from_top, groups, how_many,
    listed, next_stretch, place_in_row, racks, slot, slots,
};

use crate::mill::{Mill, number};

fn size(count: u16) -> PanelSize {
    PanelSize::new(count).expect("a size")
}

fn landed_on(mill: &Mill, panel: PanelId) -> usize {
    how_many(&slots(mill.registry(), panel), SlotState::Landed)
}

fn wired() -> Mill {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 10);
    mill.outlets("KITS", "tv", 1);
    mill
}

#[test]
fn the_rear_of_a_row_is_its_front_mirrored() {
    // Seen from the rear, position p of a row of 24 is at place 25 - p from the left (computed);
    // rows of 24 from the top, left to right from the front (custom of the trade, not EIA-310).
    for p in 1..=24 {
        let place = |face| place_in_row(size(24), number(p), face).from_left;
        assert_eq!(place(Face::Front), usize::from(p));
        assert_eq!(place(Face::Rear), usize::from(25 - p));
    }
    for (panel, p, row, front, rear) in [
        (48, 1, 1, 1, 24),
        (48, 24, 1, 24, 1),
        (48, 25, 2, 1, 24),
        (48, 48, 2, 24, 1),
        (96, 73, 4, 1, 24),
        (12, 12, 1, 12, 1),
        (8, 3, 1, 3, 6),
        // Rows of 13 and 12, and of 17, 17 and 16: the last is the outermost seen from the rear.
        (25, 13, 1, 13, 1),
        (25, 14, 2, 1, 12),
        (25, 25, 2, 12, 1),
        (50, 50, 3, 16, 1),
    ] {
        let at = |face| place_in_row(size(panel), number(p), face);
        assert_eq!(
            (at(Face::Front).row, at(Face::Front).from_left),
            (row, front)
        );
        assert_eq!((at(Face::Rear).row, at(Face::Rear).from_left), (row, rear));
        assert_eq!(at(Face::Rear).from_right, at(Face::Front).from_left);
        assert_eq!(at(Face::Rear).from_left, at(Face::Front).from_right);
    }
}

#[test]
fn the_drawing_holds_every_position_once_where_it_is_said_to_be() {
    for count in 1..=96 {
        for face in [Face::Front, Face::Rear] {
            let groups = groups(size(count), face);
            let mut seen = Vec::new();
            for row in 1..=4 {
                let cells = groups.iter().filter(|group| group.row == row);
                let cells = cells.flat_map(|group| &group.cells);
                let numbers: Vec<_> = cells.flatten().collect();
                for (place, number) in (1..).zip(&numbers) {
                    let at = place_in_row(size(count), **number, face);
                    assert_eq!((at.row, at.from_left), (row, place), "{count} {face:?}");
                    assert_eq!(at.from_right, numbers.len() + 1 - place);
                    seen.push(number.get());
                }
            }
            seen.sort_unstable();
            assert_eq!(seen, (1..=count).collect::<Vec<_>>());
            assert!(groups.iter().all(|group| group.cells.len() <= 12));
            let rows = usize::from(count).div_ceil(24);
            let starts = groups.iter().filter(|group| group.starts_row);
            assert_eq!(starts.count(), rows);
        }
    }
}

#[test]
fn a_row_of_24_is_two_halves_and_a_48_four() {
    let numbers = |count, face| {
        let groups = groups(size(count), face);
        let ends = |group: &bothends::query::rack::Group| {
            let cells: Vec<u16> = group.cells.iter().flatten().map(|n| n.get()).collect();
            format!("{}-{}", cells[0], cells[cells.len() - 1])
        };
        groups.iter().map(ends).collect::<Vec<_>>().join(" ")
    };
    assert_eq!(numbers(24, Face::Front), "1-12 13-24");
    assert_eq!(numbers(24, Face::Rear), "24-13 12-1");
    assert_eq!(numbers(48, Face::Front), "1-12 13-24 25-36 37-48");
    assert_eq!(numbers(48, Face::Rear), "24-13 12-1 48-37 36-25");
    assert_eq!(numbers(8, Face::Rear), "8-1");
}

/// `1 Landed KIT1-A` for the positions that are not free.
fn state(mill: &Mill, panel: &str) -> String {
    let ends = |ends: &[End]| {
        let codes = ends.iter();
        let codes = codes.map(|end| names::cable(mill.registry(), end.cable));
        codes.collect::<Vec<_>>().join("+")
    };
    let slots = slots(mill.registry(), mill.panel_id(panel));
    let used = slots.iter().filter(|slot| slot.state != SlotState::Free);
    let words = used.map(|slot| {
        format!(
            "{}{:?} {}|{}|{}",
            slot.position.number.get(),
            slot.state,
            ends(&slot.planned),
            ends(&slot.landed),
            ends(&slot.ready)
        )
    });
    words.collect::<Vec<_>>().join(", ")
}

#[test]
fn a_position_says_who_belongs_and_who_is_there() {
    let mut mill = wired();
    assert_eq!(state(&mill, "C"), "");
    mill.fill("C");
    assert_eq!(state(&mill, "C"), "1Planned KITS1-D||KITS1-D");
    mill.land("KITS1-D", "C01");
    assert_eq!(state(&mill, "C"), "1Landed KITS1-D|KITS1-D|");
    mill.does(&Want::Lift {
        end: mill.far("KITS1-D"),
    });
    assert_eq!(state(&mill, "C"), "1Planned KITS1-D||KITS1-D");
    for (position, kept) in [
        (
            "C02",
            Availability::Reserved {
                reason: "antenna".to_owned(),
            },
        ),
        (
            "C01",
            Availability::Bad {
                reason: "bent".to_owned(),
            },
        ),
    ] {
        let position = mill.position(position);
        mill.does(&Want::KeepPosition { position, kept });
    }
    assert_eq!(state(&mill, "C"), "1Bad KITS1-D||, 2Reserved ||");
}

#[test]
fn two_ends_on_one_jack_are_a_clash_and_on_one_terminal_are_not() {
    let mut mill = wired();
    mill.fill("B");
    // Two phones that do not meet land two cables on one position.
    let lines: Vec<String> = mill
        .journal
        .lines()
        .iter()
        .map(ToString::to_string)
        .collect();
    let mut other = Mill {
        journal: Journal::new(
            mill.journal.job(),
            bothends::domain::ids::WriterId(bothends::domain::ids::Bits80([2; 10])),
        ),
    };
    other.journal.take(lines.iter().map(String::as_str));
    mill.land("KIT1-A", "B01");
    other.land("KIT2-A", "B01");
    let theirs: Vec<String> = other
        .journal
        .lines()
        .iter()
        .map(ToString::to_string)
        .collect();
    mill.journal.take(theirs.iter().map(String::as_str));
    let found = slot(mill.registry(), mill.position("B01"));
    assert_eq!((found.state, found.landed.len()), (SlotState::Clash, 2));
    let slots = slots(mill.registry(), found.position.panel);
    assert_eq!(how_many(&slots, SlotState::Clash), 1);
    assert_eq!(how_many(&slots, SlotState::Landed), 0);
    assert!(found.ready.is_empty());
    counts_alike(&mill);
    // Nobody knows which of them is landed there.
    assert_eq!(landed_on(&mill, mill.panel_id("B")), 0);

    let t1 = mill.position("T01");
    for code in ["KIT5-A", "KIT6-A"] {
        mill.does(&Want::Land {
            end: mill.far(code),
            place: Place::rear(t1),
            fitting: bothends::domain::place::Fitting::Adapter,
        });
    }
    let found = slot(mill.registry(), t1);
    assert_eq!((found.state, found.landed.len()), (SlotState::Landed, 2));
}

#[test]
fn the_next_stretch_is_a_handful_of_what_can_be_landed_as_listed() {
    let mut mill = wired();
    let b = mill.panel_id("B");
    assert_eq!(next_stretch(&slots(mill.registry(), b)), None);
    mill.fill("B");
    let stretch = |mill: &Mill| next_stretch(&slots(mill.registry(), b));
    let of = |from, to| {
        Some(Stretch {
            from: number(from),
            to: number(to),
        })
    };
    assert_eq!(stretch(&mill), of(1, 12));
    let ends = listed(
        &slots(mill.registry(), b),
        stretch(&mill).expect("a stretch"),
    );
    assert_eq!(ends.len(), 12);
    assert_eq!(ends[11], mill.far("KIT6-B"));
    mill.does(&Want::LandAsPlanned { ends });
    assert_eq!(stretch(&mill), of(13, 22));
    assert_eq!(landed_on(&mill, b), 12);
    // A cable that sits elsewhere is not landed by a list, and ends the stretch.
    mill.land("KIT8-A", "B24");
    assert_eq!(stretch(&mill), of(13, 14));
    let all = of(1, 24).expect("a stretch");
    assert_eq!(listed(&slots(mill.registry(), b), all).len(), 9);
    counts_alike(&mill);
}

#[test]
fn racks_list_their_panels_from_the_top() {
    let mut mill = wired();
    mill.rack(2, "A", "Loft rack");
    mill.panel("2A", "E", Connector::Modular, 24, None);
    mill.panel("2A", "D", Connector::Modular, 24, None);
    mill.panel("1A", "F", Connector::Lc, 12, Some(30));
    let letters = |panel: &PanelId| names::panel(mill.registry(), *panel);
    let racks = racks(mill.registry());
    let told: Vec<String> = racks
        .iter()
        .map(|rack| {
            rack.panels
                .iter()
                .map(letters)
                .collect::<Vec<_>>()
                .join(",")
        })
        .collect();
    assert_eq!(told, ["Panel F,Panel B,Panel C,Panel T", "Panel D,Panel E"]);
    let place = from_top(mill.registry(), mill.panel_id("C"));
    assert_eq!(place, Some(FromTop { place: 3, of: 4 }));
    // Nobody said at which unit they are, so nobody knows which is the first from the top.
    assert_eq!(from_top(mill.registry(), mill.panel_id("D")), None);
}

#[test]
fn a_free_position_suits_the_cable_and_is_not_kept() {
    let mut mill = wired();
    mill.panel("1A", "D", Connector::Modular, 24, Some(22));
    let position = mill.position("B01");
    mill.does(&Want::KeepPosition {
        position,
        kept: Availability::Bad {
            reason: "bent".to_owned(),
        },
    });
    mill.land("KIT1-B", "B02");
    counts_alike(&mill);
    let free = |code: &str| -> Vec<Position> { free_for(mill.registry(), mill.cable(code), 9) };
    assert_eq!(free("KIT1-A"), ["D01", "B03"].map(|at| mill.position(at)));
    assert_eq!(free("KITS1-D"), [mill.position("C01")]);
    assert_eq!(free("KITS1-A"), []);
}

#[test]
fn a_shielded_cable_is_offered_a_plain_jack_with_an_adapter() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "tv", 1);
    let cables = mill.registry().cables.iter().map(|(id, _)| id);
    let offered: Vec<_> = cables
        .filter(|id| free_for(mill.registry(), *id, 9).is_empty())
        .filter_map(|id| free_with_adapter(mill.registry(), id))
        .map(|(position, _, wanted)| (position, wanted))
        .collect();
    let expected = (mill.position("B01"), Connector::ShieldedModular);
    assert!(!offered.is_empty());
    assert!(
        offered.iter().all(|offer| *offer == expected),
        "{offered:?}"
    );
}

#[test]
#[expect(
    clippy::disallowed_types,
    reason = "a test of speed needs a clock, and the core still has none"
)]
fn a_rack_with_ten_thousand_positions_is_answered_at_once() {
    let mut mill = Mill::new();
    let letters = |at: u8| {
        let letter = |place: u8| char::from(b'A' + place);
        format!("{}{}", letter(at / 20), letter(at % 20))
    };
    for at in 0..200 {
        mill.panel("1A", &letters(at), Connector::Modular, 48, None);
    }
    mill.outlets("KIT", "data", 99);
    let aa = mill.panel_id("AA");
    mill.does(&Want::FillPanel { panel: aa });
    // What one screen asks for: the list of racks, thirty counts, one panel. The bound is wide, so
    // that it fails for a wrong order of growth and not for a slow machine.
    let start = std::time::Instant::now();
    let racks = racks(mill.registry());
    let counts = racks[0].panels.iter().take(30);
    let landed: usize = counts.map(|panel| landed_on(&mill, *panel)).sum();
    let planned = slots(mill.registry(), aa);
    let took = start.elapsed();
    assert_eq!((racks[0].panels.len(), landed, planned.len()), (203, 0, 48));
    assert_eq!(planned[47].state, SlotState::Planned);
    assert!(took.as_millis() < 500, "{took:?}");
}

/// Counted without lists, the positions come to what their lists come to.
fn counts_alike(mill: &Mill) {
    let mut sums = [0; SlotState::ALL.len()];
    let panels: Vec<_> = mill.registry().panels.iter().map(|(id, _)| id).collect();
    for panel in &panels {
        let slots = slots(mill.registry(), *panel);
        let counted = counts(mill.registry(), &[*panel]);
        assert_eq!(counted.all(), slots.len());
        for (sum, state) in sums.iter_mut().zip(SlotState::ALL) {
            assert_eq!(counted.of(state), how_many(&slots, state), "{state:?}");
            *sum += how_many(&slots, state);
        }
    }
    let together = counts(mill.registry(), &panels);
    assert_eq!(SlotState::ALL.map(|state| together.of(state)), sums);
    assert_eq!(together.taken(), sums[1] + sums[2] + sums[5]);
}
