//! Where ends belong and where they are: one end at one place, and the ways out when two claim it.

use bothends::command::{Want, done_words};
use bothends::domain::label::LegNumber;
use bothends::domain::medium::{Connector, Kind, Medium};
use bothends::domain::place::{End, Fitting, Place};
use bothends::domain::work::{Availability, JointKind};
use bothends::names;
use bothends::walk;

use super::support::Site;

#[test]
fn a_second_claim_is_refused_with_who_and_since_when() {
    let mut site = Site::wired_mill();
    site.does(site.land(site.far("KIT1-A"), "B07"));
    let second = site.land(site.far("DIN1-A"), "B07");
    let refusal = site.refuses(
        second,
        "B07 is taken: KIT1-A is landed there since 2026-03-02 by P1",
    );
    assert_eq!(
        refusal.ways_out[0].label,
        "DIN1-A is here, I see it. KIT1-A is not."
    );
    site.takes(&refusal, 1);
    assert_eq!(site.state("KIT1-A"), "KIT1-A: near bare, far lifted");
    assert_eq!(site.state("DIN1-A"), "DIN1-A: near bare, far landed B07");
    // Landing there again changes nothing; so does seeing it there.
    site.refuses(site.land(site.far("DIN1-A"), "B07"), "it is so already");
    // A landed end may go elsewhere without being lifted first, and then its place is free.
    site.does(site.land(site.far("DIN1-A"), "B08"));
    site.does(site.land(site.far("KIT1-A"), "B07"));
    assert_eq!(site.state("DIN1-A"), "DIN1-A: near bare, far landed B08");
}

#[test]
fn two_that_are_on_each_others_positions_are_swapped_in_one_tap() {
    let mut site = Site::wired_mill();
    site.does(site.land(site.far("KIT1-A"), "B07"));
    site.does(site.land(site.far("DIN1-A"), "B08"));
    let refusal = site.refuses(site.land(site.far("DIN1-A"), "B07"), "B07 is taken");
    let labels: Vec<_> = refusal.ways_out.iter().map(|way| &*way.label).collect();
    assert_eq!(
        labels,
        [
            "DIN1-A is here, I see it. KIT1-A is not.",
            "Swap the two: KIT1-A is on B08"
        ]
    );
    let act = site.takes(&refusal, 2);
    assert_eq!(site.state("KIT1-A"), "KIT1-A: near bare, far landed B08");
    assert_eq!(site.state("DIN1-A"), "DIN1-A: near bare, far landed B07");
    site.undoes(act);
    assert_eq!(site.state("KIT1-A"), "KIT1-A: near bare, far landed B07");
}

#[test]
fn two_that_are_listed_on_each_others_positions_are_swapped_in_one_tap() {
    let mut site = Site::wired_mill();
    let (one, other) = (site.far("KIT1-A"), site.far("DIN1-A"));
    site.does(site.plan(one, "B07"));
    // Without a position of its own there is nothing to swap.
    let refusal = site.refuses(site.plan(other, "B07"), "is meant for KIT1-A already");
    assert!(refusal.ways_out.is_empty());
    site.does(site.plan(other, "B08"));
    let refusal = site.refuses(site.plan(other, "B07"), "is meant for KIT1-A already");
    assert_eq!(
        refusal.ways_out[0].label,
        "Swap the two: KIT1-A belongs on B08"
    );
    site.takes(&refusal, 1);
    let planned = &site.registry().index.planned;
    assert_eq!(planned.get(&site.place("B07")), [other]);
    assert_eq!(planned.get(&site.place("B08")), [one]);
    // What is landed there does not move with the list.
    site.does(site.land(other, "B07"));
    let refusal = site.refuses(site.plan(one, "B07"), "is meant for DIN1-A already");
    assert!(refusal.ways_out.is_empty());
}

#[test]
fn a_cable_that_needs_an_adapter_says_so_before_and_after_it_is_seen_here() {
    let mut site = Site::wired_mill();
    site.does(site.land(site.far("KIT1-A"), "B07"));
    let cable = site.cable("DIN1-A");
    let medium = Medium::indoor(Kind::Rg6);
    site.does(Want::SetMedium { cable, medium });
    let refusal = site.refuses(site.land(site.far("DIN1-A"), "B07"), "B07 is taken");
    let way = &refusal.ways_out[0];
    assert_eq!(
        way.label,
        "DIN1-A is here, I see it, with an adapter. KIT1-A is not."
    );
    site.takes(&refusal, 1);
    assert_eq!(
        done_words(&way.want, site.registry()),
        "DIN1-A is landed on B07 with an adapter."
    );
}

#[test]
fn seeing_one_cable_here_says_nothing_of_where_another_was_seen_elsewhere() {
    // Two phones landed one end on two positions; a third end is seen on one of them.
    let mut first = Site::wired_mill();
    let mut second = Site::phone(2);
    first.meets(&mut second);
    let end = first.far("KIT1-A");
    first.does(first.land(end, "B03"));
    second.does(second.land(end, "B07"));
    first.meets(&mut second);
    let claim = first.land(first.far("DIN1-A"), "B07");
    let refusal = first.refuses(claim, "B07 is taken");
    let act = first.takes(&refusal, 1);
    assert_eq!(first.state("KIT1-A"), "KIT1-A: near bare, far landed B03");
    assert_eq!(first.state("DIN1-A"), "DIN1-A: near bare, far landed B07");
    first.undoes(act);
    assert_eq!(first.state("DIN1-A"), "DIN1-A: near bare, far bare");
    let claims = first.registry().index.landed.get(&first.place("B07"));
    assert_eq!(claims, [end]);
}

#[test]
fn every_kind_of_place_takes_one_end_unless_it_is_shared() {
    let mut site = Site::wired_mill();
    site.does(Want::AddDevice {
        name: "Gate station".to_owned(),
        room: None,
    });
    site.does(Want::AddJoint {
        kind: JointKind::Barrel,
        name: "Attic barrel".to_owned(),
        room: None,
    });
    let device = site.registry().devices.iter().next().expect("a device").0;
    let joint = site.registry().joints.iter().next().expect("a joint").0;
    let port = |port: &str| Place::Device {
        device,
        port: port.to_owned(),
    };
    let way = |way| Place::Joint { joint, way };
    let land = |end, place| Want::Land {
        end,
        place,
        fitting: Fitting::Adapter,
    };
    let (a, b) = (site.far("KIT1-A"), site.far("KIT1-B"));
    for place in [
        site.place("B01"),
        site.place("front of B01"),
        site.place("jack A of KIT1"),
        port("LAN"),
        way(1),
    ] {
        site.does(land(a, place.clone()));
        let refusal = site.refuses(land(b, place.clone()), "is taken: KIT1-A is landed there");
        site.takes(&refusal, 1);
        site.refuses(land(a, place), "is taken: KIT1-B is landed there");
    }
    site.does(land(a, site.place("B01")));
    site.does(land(b, site.place("front of B01")));
    // Alarm terminals take any number of conductors.
    for end in [a, b] {
        site.does(land(end, site.place("T03")));
    }
    assert_eq!(site.registry().index.landed.get(&site.place("T03")), [a, b]);
    site.refuses(land(a, port(" ")), "The port is empty");
    site.refuses(land(a, way(0)), "That joint is no longer in the job");
}

#[test]
fn there_is_no_landing_nowhere() {
    let mut site = Site::wired_mill();
    let end = site.far("KIT1-A");
    site.refuses(
        site.land(end, "C09"),
        "Panel C has 8 positions; there is no number 9",
    );
    site.refuses(site.plan(end, "C09"), "there is no number 9");
    let keep = |position, kept| Want::KeepPosition { position, kept };
    site.refuses(
        keep(site.position("C09"), Availability::Open),
        "there is no number 9",
    );
    let blank = Availability::Bad {
        reason: String::new(),
    };
    site.refuses(
        keep(site.position("C08"), blank),
        "position is bad is empty",
    );
    site.refuses(
        keep(site.position("C08"), Availability::Open),
        "it is so already",
    );
    site.adds_panel("1A", "D", Connector::Modular, 4);
    let place = site.place("D01");
    let added = site.journal.history().last().expect("an act").id;
    site.undoes(added);
    let land = Want::Land {
        end,
        place,
        fitting: Fitting::Direct,
    };
    site.refuses(land, "no longer in the job");
}

#[test]
fn a_misfit_takes_one_tap_with_adapter() {
    let mut site = Site::mill();
    site.adds_outlet("KIT", "tv");
    let cases = [
        (
            "KIT1-D",
            "B01",
            "KIT1-D is RG-6, and B01 is 8P8C: the cable and the connector are of different kinds",
        ),
        (
            "KIT1-A",
            "B02",
            "the cable's shield would end here without a drain",
        ),
        ("KIT1-B", "C01", "KIT1-B is Cat 6 U/UTP, and C01 is F"),
    ];
    for (code, at, words) in cases {
        let end = site.far(code);
        let refusal = site.refuses(site.land(end, at), words);
        site.takes(&refusal, 1);
        assert_eq!(
            site.state(code),
            format!("{code}: near bare, far landed {at} with adapter")
        );
    }
    site.does(site.land(site.far("KIT1-C"), "B03"));
    site.does(Want::Lift {
        end: site.far("KIT1-D"),
    });
    // What has its adapter is not asked about it again.
    site.refuses(site.land(site.far("KIT1-A"), "B02"), "it is so already");
    // Seen where another one is recorded, a misfit needs no second question.
    let refusal = site.refuses(site.land(site.far("KIT1-D"), "B03"), "B03 is taken");
    site.takes(&refusal, 1);
    assert_eq!(
        site.state("KIT1-D"),
        "KIT1-D: near bare, far landed B03 with adapter"
    );
}

#[test]
fn landing_as_planned_is_all_or_nothing() {
    let mut site = Site::wired_mill();
    site.does(Want::FillPanel {
        panel: site.panel("B"),
    });
    let ends: Vec<End> = ["KIT1-A", "KIT1-B", "DIN1-A", "DIN1-B"]
        .map(|code| site.far(code))
        .into();
    let as_planned = Want::LandAsPlanned { ends: ends.clone() };
    site.does(Want::PlanEnd {
        end: ends[3],
        place: None,
    });
    site.refuses(as_planned.clone(), "DIN1-B has no position planned");
    assert_eq!(site.state("KIT1-A"), "KIT1-A: near bare, far planned B01");
    site.does(site.plan(ends[3], "C01"));
    let refusal = site.refuses(as_planned.clone(), "and C01 is F");
    site.takes(&refusal, 1);
    // What is there already, be it with an adapter, is not asked again.
    site.does(as_planned.clone());
    for (code, at) in [("KIT1-A", "B01"), ("KIT1-B", "B02"), ("DIN1-A", "B03")] {
        assert_eq!(
            site.state(code),
            format!("{code}: near bare, far planned {at} landed {at}")
        );
    }
    site.refuses(as_planned, "it is so already");
}

#[test]
fn two_ends_of_one_list_do_not_land_on_one_place() {
    let mut site = Site::wired_mill();
    let mut other = Site::phone(2);
    site.meets(&mut other);
    let (a, b) = (site.far("KIT1-A"), site.far("KIT1-B"));
    site.does(site.plan(a, "B07"));
    other.does(other.plan(b, "B07"));
    site.meets(&mut other);
    site.refuses(
        site.plan(site.far("DIN1-A"), "B07"),
        "B07 is meant for KIT1-A already",
    );
    let both = Want::LandAsPlanned { ends: vec![a, b] };
    site.refuses(both, "KIT1-A and KIT1-B are both meant for B07");
    site.does(Want::LandAsPlanned { ends: vec![a, a] });
    let refusal = site.refuses(Want::LandAsPlanned { ends: vec![a, b] }, "B07 is taken");
    site.takes(&refusal, 1);
    assert_eq!(site.registry().index.landed.get(&site.place("B07")), [b]);
}

#[test]
fn spare_and_dead_have_a_reason() {
    let mut site = Site::wired_mill();
    let end = site.far("KIT1-A");
    let spare = |reason: &str| Want::Spare {
        end,
        kept: "Above the rack".to_owned(),
        reason: reason.to_owned(),
    };
    let dead = |reason: &str| Want::Dead {
        end,
        reason: reason.to_owned(),
    };
    site.refuses(spare("  "), "The reason why this end stays unused is empty");
    site.refuses(dead(""), "The reason why this end is dead is empty");
    site.does(site.land(end, "B01"));
    site.does(spare("Future camera"));
    assert_eq!(
        site.state("KIT1-A"),
        "KIT1-A: near bare, far spare (Future camera)"
    );
    site.does(site.land(site.far("KIT1-B"), "B01"));
    site.does(dead("Nail through it"));
    assert_eq!(
        site.state("KIT1-A"),
        "KIT1-A: near bare, far dead (Nail through it)"
    );
}

#[test]
fn a_split_end_lands_leg_by_leg() {
    let mut site = Site::mill();
    site.adds_outlet("KIT", "speaker-pair");
    site.adds_panel("1A", "S", Connector::SpeakerTerminal, 8);
    let whole = site.far("KIT1-A");
    let split = |legs| Want::SplitEnd {
        end: whole,
        legs: LegNumber::new(legs).expect("a leg number"),
    };
    site.refuses(
        site.land(site.leg("KIT1-A", 1), "S01"),
        "KIT1-A is not split here",
    );
    site.refuses(split(1), "two legs or more");
    site.does(site.land(whole, "S01"));
    let refusal = site.refuses(split(2), "not free");
    site.takes(&refusal, 1);
    site.does(split(2));
    site.refuses(site.land(whole, "S01"), "KIT1-A is split into 2 legs here");
    site.refuses(
        Want::Dead {
            end: whole,
            reason: "Cut".to_owned(),
        },
        "split into 2 legs",
    );
    site.refuses(site.land(site.leg("KIT1-A", 3), "S01"), "there is no leg 3");
    site.does(site.land(site.leg("KIT1-A", 1), "S01"));
    let refusal = site.refuses(
        site.land(site.leg("KIT1-A", 2), "S01"),
        "S01 is taken: KIT1-A.1 is landed there",
    );
    assert!(refusal.ways_out[0].label.starts_with("KIT1-A.2 is here"));
    site.does(site.land(site.leg("KIT1-A", 2), "S02"));
    assert_eq!(
        site.state("KIT1-A"),
        "KIT1-A: near bare, far split 2 lifted .1 landed S01 .2 landed S02"
    );
    site.takes(&refusal, 1);
    assert!(site.state("KIT1-A").ends_with(".1 lifted .2 landed S01"));
    assert_eq!(
        names::end(site.registry(), site.leg("KIT1-A", 2)),
        "KIT1-A.2 at Main rack"
    );
    site.does(split(4));
    site.does(site.land(site.leg("KIT1-A", 4), "S04"));
    let refusal = site.refuses(split(3), "Leg 4 is landed");
    site.takes(&refusal, 1);
    site.does(split(3));
    let leg = Want::SplitEnd {
        end: site.leg("KIT1-A", 1),
        legs: LegNumber::new(2).expect("two"),
    };
    site.refuses(leg, "a leg is not split again");
}

#[test]
fn the_legs_of_an_end_are_joined_again_and_undo_parts_them() {
    let mut site = Site::mill();
    site.adds_outlet("KIT", "speaker-pair");
    site.adds_panel("1A", "S", Connector::SpeakerTerminal, 8);
    let (whole, first, second) = (
        site.far("KIT1-A"),
        site.leg("KIT1-A", 1),
        site.leg("KIT1-A", 2),
    );
    let join = |end| Want::JoinLegs { end };
    site.refuses(join(whole), "This end is not split");
    site.does(Want::SplitEnd {
        end: whole,
        legs: LegNumber::new(2).expect("two"),
    });
    site.does(site.mark(first));
    site.does(site.plan(first, "S02"));
    site.does(site.land(first, "S01"));
    site.does(Want::Dead {
        end: second,
        reason: "Nail".to_owned(),
    });
    let refusal = site.refuses(join(second), "Leg 1 is landed. Lift it before you join");
    site.takes(&refusal, 1);
    let split = site.state("KIT1-A");
    assert_eq!(
        split,
        "KIT1-A: near bare, far marked KIT1-A split 2 .1 planned S02 .1 lifted .2 dead (Nail)"
    );
    // A leg speaks for its end. What is written on the copper stays, what was said of the legs goes.
    let joined = site.does(join(second));
    assert_eq!(
        done_words(&join(second), site.registry()),
        "KIT1-A at Main rack is one end again. Its marks and tests stay, what was said of its legs does not."
    );
    let whole_again = "KIT1-A: near bare, far marked KIT1-A planned S02";
    assert_eq!(site.state("KIT1-A"), whole_again);
    site.refuses(site.land(first, "S01"), "KIT1-A is not split here");
    site.undoes(joined);
    assert_eq!(site.state("KIT1-A"), split);
    site.does(join(whole));
    site.does(site.land(whole, "S01"));
    assert!(site.state("KIT1-A").ends_with("planned S02 landed S01"));
}

#[test]
fn legs_of_a_withdrawn_cable_are_left_alone() {
    let mut site = Site::wired_mill();
    let added = site.does(site.add_cable("KIT1", Kind::Cat6Utp));
    let end = site.far("KIT1-C");
    site.does(Want::SplitEnd {
        end,
        legs: LegNumber::new(2).expect("two"),
    });
    site.undoes(added);
    site.refuses(Want::JoinLegs { end }, "no longer in the job");
}

#[test]
fn a_whole_end_landed_while_another_phone_split_it_can_be_lifted() {
    let mut site = Site::wired_mill();
    let mut other = Site::phone(2);
    site.meets(&mut other);
    let end = site.far("KIT1-A");
    site.does(site.land(end, "B01"));
    other.does(Want::SplitEnd {
        end,
        legs: LegNumber::new(2).expect("two"),
    });
    site.meets(&mut other);
    site.does(Want::Lift { end });
    site.does(site.land(site.leg("KIT1-A", 1), "B01"));
}

#[test]
fn filling_a_panel_goes_the_way_people_walk() {
    let mut site = Site::mill();
    site.adds_outlet("DIN", "tv");
    for _ in 0..2 {
        site.adds_outlet("KIT", "tv");
    }
    site.adds_rack(2, "A", "Studio rack");
    site.does(Want::AddOutlet {
        room: site.room("KIT"),
        kind: bothends::domain::outlet_type::OutletKind::usual("data").expect("data"),
        purpose: String::new(),
        rack: Some(site.rack("2A")),
    });
    site.does(Want::KeepPosition {
        position: site.position("B03"),
        kept: Availability::Bad {
            reason: "Bent pin".to_owned(),
        },
    });
    site.does(Want::Dead {
        end: site.far("KIT1-B"),
        reason: "Cut".to_owned(),
    });
    site.does(Want::CancelCable {
        cable: site.cable("KIT2-B"),
        reason: "No".to_owned(),
    });
    site.does(site.land(site.far("DIN1-B"), "B01"));
    site.does(Want::Lift {
        end: site.far("DIN1-B"),
    });
    site.does(site.plan(site.far("KIT2-B"), "B02"));
    site.does(Want::FillPanel {
        panel: site.panel("B"),
    });
    // Unshielded data cables only: neither the shielded nor the coax, nor what goes to the other
    // rack, is out of use or cancelled; a lifted end gets a position again, and a cancelled cable
    // keeps none.
    let planned: Vec<String> = walk::cables(site.registry())
        .into_iter()
        .map(|cable| site.state_of(cable))
        .filter(|state| state.contains("planned"))
        .collect();
    assert_eq!(
        planned,
        [
            "KIT1-C: near bare, far planned B01",
            "KIT2-C: near bare, far planned B02",
            "DIN1-B: near bare, far planned B04 lifted",
            "DIN1-C: near bare, far planned B05",
        ]
    );
    site.refuses(
        Want::FillPanel {
            panel: site.panel("B"),
        },
        "No cable without a position suits Panel B",
    );
    // A panel with fewer positions than cables is filled as far as it goes.
    site.adds_panel("1A", "F", Connector::F, 2);
    site.does(Want::FillPanel {
        panel: site.panel("F"),
    });
    assert!(site.state("KIT2-D").ends_with("planned F02"));
    assert!(site.state("DIN1-D").ends_with("far bare"));
}

#[test]
fn a_withdrawn_cable_lets_go_of_its_place() {
    let mut site = Site::wired_mill();
    let added = site.does(site.add_cable("KIT1", Kind::Cat6Utp));
    site.does(site.plan(site.far("KIT1-C"), "B07"));
    site.does(site.land(site.far("KIT1-C"), "B07"));
    site.undoes(added);
    let refusal = site.refuses(site.land(site.far("KIT1-A"), "B07"), "B07 is taken");
    site.does(site.plan(site.far("KIT1-B"), "B08"));
    site.takes(&refusal, 1);
    assert_eq!(site.state("KIT1-A"), "KIT1-A: near bare, far landed B07");
    assert_eq!(
        site.registry().index.landed.get(&site.place("B07")),
        [site.far("KIT1-A")]
    );
}

#[test]
fn the_plan_of_an_end_becomes_that_of_its_first_leg() {
    let mut site = Site::wired_mill();
    let end = site.far("KIT1-A");
    site.does(site.plan(end, "B07"));
    let split = Want::SplitEnd {
        end,
        legs: LegNumber::new(2).expect("two"),
    };
    site.undo_restores(&split);
    site.does(split);
    let at = |site: &Site, leg| {
        let row = site.registry().cables.get(end.cable).expect("a cable");
        let planned = row.planned[1].get(leg)?.get()?.as_ref()?;
        Some(names::place(site.registry(), planned))
    };
    let one = LegNumber::new(1);
    assert_eq!(
        [at(&site, None), at(&site, one)],
        [None, Some("B07".to_owned())]
    );
}

#[test]
fn two_that_were_listed_the_other_way_round_are_listed_as_they_were_seen() {
    let mut site = Site::wired_mill();
    for (code, position) in [("KIT1-A", "B01"), ("KIT1-B", "B02")] {
        site.does(site.plan(site.far(code), position));
    }
    site.does(site.land(site.far("KIT1-A"), "B01"));
    let want = Want::LandInstead {
        end: site.far("KIT1-B"),
        place: Place::rear(site.position("B01")),
        fitting: Fitting::Direct,
    };
    site.undo_restores(&want);
    site.does(want);
    assert_eq!(
        site.state("KIT1-A"),
        "KIT1-A: near bare, far planned B02 lifted"
    );
    assert_eq!(
        site.state("KIT1-B"),
        "KIT1-B: near bare, far planned B01 landed B01"
    );
}

#[test]
fn what_does_not_fit_where_the_other_one_was_listed_is_listed_nowhere() {
    let mut site = Site::wired_mill();
    site.adds_outlet("KIT", "speaker-pair");
    site.adds_panel("1A", "S", Connector::SpeakerTerminal, 8);
    site.does(site.plan(site.far("KIT1-A"), "B01"));
    site.does(site.plan(site.far("KIT2-A"), "S01"));
    site.does(site.land(site.far("KIT1-A"), "B01"));
    let refusal = site.refuses(site.land(site.far("KIT2-A"), "B01"), "B01 is taken");
    assert_eq!(
        refusal.ways_out[0].label,
        "KIT2-A is here, I see it, with an adapter. KIT1-A is not."
    );
    site.takes(&refusal, 1);
    assert_eq!(site.state("KIT1-A"), "KIT1-A: near bare, far lifted");
    assert_eq!(
        site.state("KIT2-A"),
        "KIT2-A: near bare, far planned B01 landed B01 with adapter"
    );
}
