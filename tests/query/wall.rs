//! What somebody at the wall sees.

use bothends::command::{Correction, JackEnd, Want, draft};
use bothends::domain::ids::{Bits80, CableId, JobId, OutletId, RoomId, WriterId};
use bothends::domain::label::{Letter, OutletNumber, RoomCode, SpaceCode};
use bothends::domain::length::{FootageMark, LengthUnit, Millimetres};
use bothends::domain::outlet_type::OutletKind;
use bothends::domain::place::{End, Side};
use bothends::domain::work::{MarkKind, PullOutcome, Slack, Waiting, WaitsFor};
use bothends::journal::{Journal, Registry, Signature, WallTime};
use bothends::query::cable::view;
use bothends::query::wall::{self, Belongs, MarkState, PullState, Settled};

/// A job on one phone.
struct Site {
    journal: Journal,
}

impl Site {
    fn new() -> Self {
        Self {
            journal: Journal::new(JobId(Bits80([1; 10])), WriterId(Bits80([2; 10]))),
        }
    }

    fn registry(&self) -> &Registry {
        self.journal.registry()
    }

    fn does(&mut self, want: &Want) {
        let draft = draft(want, &self.journal).unwrap_or_else(|no| panic!("{want:?}: {no:?}"));
        let signature = Signature {
            by: "AM".to_owned(),
            wall: WallTime(0),
        };
        self.journal
            .write(draft, signature)
            .expect("a number is left");
    }

    fn room(&mut self, name: &str, code: &str) -> RoomId {
        let code = RoomCode::new(code).expect("a room code");
        self.does(&Want::AddRoom {
            name: name.to_owned(),
            code,
            floor: None,
            unit: None,
        });
        self.registry().index.rooms_by_code.get(&code)[0]
    }

    fn outlet(&mut self, room: RoomId, kind: &str) -> OutletId {
        let before = wall::room(self.registry(), room).map_or(0, |room| room.outlets.len());
        self.does(&Want::AddOutlet {
            room,
            kind: OutletKind::usual(kind).expect("a usual type"),
            purpose: String::new(),
            rack: wall::default_rack(self.registry()),
        });
        wall::room(self.registry(), room).expect("the room").outlets[before].outlet
    }

    fn cable(&self, outlet: OutletId, at: usize) -> CableId {
        wall::ends(self.registry(), outlet)[at].end.cable
    }

    /// The codes and belongings of what comes out at an outlet.
    fn out(&self, outlet: OutletId) -> Vec<(String, Belongs)> {
        let ends = wall::ends(self.registry(), outlet).into_iter();
        ends.map(|end| (end.code, end.belongs)).collect()
    }

    fn mark(&mut self, ends: Vec<End>) {
        self.does(&Want::MarkEnds {
            ends,
            kind: MarkKind::Pen,
            copies: 3,
        });
    }
}

fn named(list: &[(&str, Belongs)]) -> Vec<(String, Belongs)> {
    list.iter()
        .map(|(code, belongs)| ((*code).to_owned(), *belongs))
        .collect()
}

#[test]
fn one_tap_marks_an_outlet_and_the_next_follows_in_walking_order() {
    let mut site = Site::new();
    let kitchen = site.room("Kitchen", "KIT");
    let studio = site.room("Pottery studio", "PST");
    let tv = site.outlet(kitchen, "tv");
    let camera = site.outlet(studio, "camera");
    let data = site.outlet(kitchen, "data");
    let next = |site: &Site, after| {
        let next = wall::next_outlet(site.registry(), after);
        next.map(|next| (next.outlet, next.code, next.room))
    };
    let expect = |id, code: &str, room: &str| Some((id, code.to_owned(), room.to_owned()));
    assert_eq!(next(&site, None), expect(tv, "KIT1", "Kitchen"));
    let unmarked = wall::unmarked(&wall::ends(site.registry(), tv));
    assert_eq!(unmarked.len(), 4);
    site.mark(unmarked);
    assert_eq!(wall::unmarked(&wall::ends(site.registry(), tv)), []);
    assert_eq!(next(&site, Some(tv)), expect(data, "KIT2", "Kitchen"));
    assert_eq!(
        next(&site, Some(data)),
        expect(camera, "PST1", "Pottery studio")
    );
    // Behind the last one the search begins anew, and never gives the one that one stands at.
    assert_eq!(next(&site, Some(camera)), expect(data, "KIT2", "Kitchen"));
    let unmarked = wall::unmarked(&wall::ends(site.registry(), data));
    site.mark(unmarked);
    assert_eq!(next(&site, Some(camera)), None);

    let rooms = wall::walls(site.registry()).rooms;
    let progress: Vec<_> = rooms
        .iter()
        .map(|room| (room.code.as_str(), room.tally.marked, room.tally.cables))
        .collect();
    assert_eq!(progress, [("KIT", 6, 6), ("PST", 0, 1)]);
}

#[test]
fn a_lost_tag_and_a_short_pull_want_a_look() {
    let mut site = Site::new();
    let kitchen = site.room("Kitchen", "KIT");
    let outlet = site.outlet(kitchen, "data");
    let (a, b) = (site.cable(outlet, 0), site.cable(outlet, 1));
    site.mark(vec![End::whole(a, Side::Near), End::whole(a, Side::Far)]);
    site.does(&Want::LoseTag {
        end: End::whole(a, Side::Near),
    });
    site.does(&Want::ReportPull {
        cables: vec![b],
        outcome: PullOutcome::Short,
    });
    let ends = wall::ends(site.registry(), outlet);
    assert_eq!(ends[0].mark, MarkState::Lost);
    assert_eq!(ends[0].other_mark, MarkState::Yes(MarkKind::Pen));
    assert_eq!(ends[1].mark, MarkState::No);
    assert_eq!(ends[1].pull, PullState::Trouble(PullOutcome::Short));
    assert!(ends.iter().all(wall::EndHere::wants_a_look));
    assert_eq!(wall::unmarked(&ends).len(), 2);
}

#[test]
fn a_disputed_wall_end_wants_a_look() {
    let mut site = Site::new();
    let kitchen = site.room("Kitchen", "KIT");
    let outlet = site.outlet(kitchen, "tv");
    let mut other = Site {
        journal: Journal::new(site.journal.job(), WriterId(Bits80([3; 10]))),
    };
    other.journal.take(site.journal.lines());
    let end = wall::ends(site.registry(), outlet)[0].end;
    let jack = JackEnd {
        end,
        jack: Letter::new('A').expect("a letter"),
    };
    let jacks = vec![jack];
    site.does(&Want::LandInPlate { outlet, jacks });
    let reason = "no jack left".to_owned();
    let kept = "coiled in the box".to_owned();
    other.does(&Want::Spare { end, kept, reason });
    assert!(!wall::ends(site.registry(), outlet)[0].disputed);
    site.journal.take(other.journal.lines());
    let ends = wall::ends(site.registry(), outlet);
    let disputed: Vec<bool> = ends.iter().map(|end| end.disputed).collect();
    assert_eq!(disputed, [true, false, false, false]);
    assert!(ends[0].wants_a_look());
}

#[test]
fn a_local_run_comes_out_at_both_of_its_outlets() {
    let mut site = Site::new();
    let kitchen = site.room("Kitchen", "KIT");
    let volume = site.outlet(kitchen, "volume-control");
    let speakers = site.outlet(kitchen, "speaker-pair");
    let cable = site.cable(speakers, 0);
    site.does(&Want::RouteLocal {
        cable,
        from: volume,
    });
    assert_eq!(
        site.out(volume),
        named(&[
            ("KIT1-A", Belongs::Own),
            ("KIT1-B", Belongs::Own),
            ("KIT2-A", Belongs::Out),
        ])
    );
    assert_eq!(site.out(speakers), named(&[("KIT2-A", Belongs::Own)]));
    let out = &wall::ends(site.registry(), volume)[2];
    assert_eq!(out.end, End::whole(cable, Side::Far));
    assert_eq!(
        out.jack,
        Letter::new('C').expect("a letter"),
        "the next free jack"
    );
    assert_eq!(out.other_place, "KIT2");
    // The leg is marked at the box that it leaves by itself.
    site.mark(vec![out.end]);
    assert_eq!(
        wall::unmarked(&wall::ends(site.registry(), volume)).len(),
        2
    );
    assert_eq!(
        wall::unmarked(&wall::ends(site.registry(), speakers)).len(),
        1
    );
}

#[test]
fn a_cable_that_came_out_elsewhere_stands_there() {
    let mut site = Site::new();
    let kitchen = site.room("Kitchen", "KIT");
    let one = site.outlet(kitchen, "data");
    let two = site.outlet(kitchen, "camera");
    let cable = site.cable(one, 1);
    site.does(&Want::CameOutAt {
        cable,
        outlet: two,
        how: Correction::RecordChanges,
    });
    assert_eq!(site.out(one), named(&[("KIT1-A", Belongs::Own)]));
    assert_eq!(
        site.out(two),
        named(&[("KIT2-A", Belongs::Own), ("KIT1-B", Belongs::Visitor)])
    );
    let away = wall::away(site.registry(), one);
    assert_eq!(away.len(), 1);
    assert_eq!((away[0].cable, away[0].at), (cable, two));
    // With the tags changed instead, it is a cable of the other outlet.
    let other = site.cable(one, 0);
    site.does(&Want::CameOutAt {
        cable: other,
        outlet: two,
        how: Correction::TagsMove,
    });
    assert_eq!(site.out(one), []);
    assert!(site.out(two).iter().all(|(code, _)| code != "KIT1-A"));
}

#[test]
fn all_jacks_are_terminated_in_one_act() {
    let mut site = Site::new();
    let kitchen = site.room("Kitchen", "KIT");
    let outlet = site.outlet(kitchen, "tv");
    let jacks = wall::ends(site.registry(), outlet)
        .into_iter()
        .map(|end| JackEnd {
            end: end.end,
            jack: end.jack,
        })
        .collect();
    site.does(&Want::LandInPlate { outlet, jacks });
    let ends = wall::ends(site.registry(), outlet);
    let landed: Vec<_> = ends.iter().map(|end| end.here.clone()).collect();
    let expected: Vec<_> = ["A", "B", "C", "D"]
        .map(|jack| Settled::Landed(format!("jack {jack} of KIT1")))
        .into();
    assert_eq!(landed, expected);
    // A jack takes one end: a second claim is refused, with who holds it.
    let other = site.outlet(kitchen, "camera");
    let claim = Want::LandInPlate {
        outlet,
        jacks: vec![JackEnd {
            end: wall::ends(site.registry(), other)[0].end,
            jack: Letter::new('A').expect("a letter"),
        }],
    };
    let refused = draft(&claim, &site.journal).expect_err("the jack is taken");
    assert!(
        refused.words.contains("KIT1-A is landed there"),
        "{}",
        refused.words
    );
    assert_eq!(refused.ways_out.len(), 1);
}

#[test]
fn two_marks_give_the_length_and_count_for_the_whole_jacket() {
    let mut site = Site::new();
    let kitchen = site.room("Kitchen", "KIT");
    let outlet = site.outlet(kitchen, "data");
    let (a, b) = (site.cable(outlet, 0), site.cable(outlet, 1));
    site.does(&Want::ShareJacket {
        cables: vec![a, b],
        jacket: None,
    });
    for (cable, side, value) in [(a, Side::Near, 482), (b, Side::Far, 360)] {
        site.does(&Want::ReadFootage {
            end: End::whole(cable, side),
            mark: FootageMark {
                value,
                unit: LengthUnit::Feet,
            },
        });
    }
    for end in wall::ends(site.registry(), outlet) {
        // 122 ft of 304.8 mm each (international foot).
        assert_eq!(end.length, Some(Millimetres(37_186)), "{}", end.code);
        assert_eq!(end.jacket.len(), 1);
    }
}

#[test]
fn nothing_is_asked_that_can_be_worked_out() {
    let mut site = Site::new();
    assert_eq!(wall::default_rack(site.registry()), None);
    let rack = |site: &mut Site, letter: &str| {
        let space = SpaceCode::new(1, letter).expect("a space");
        site.does(&Want::AddRack {
            space,
            name: format!("Rack {letter}"),
            room: None,
        });
        site.registry().index.racks_by_space.get(&space)[0]
    };
    let first = rack(&mut site, "A");
    assert_eq!(
        wall::default_rack(site.registry()),
        Some(first),
        "the only one"
    );
    let second = rack(&mut site, "B");
    let kitchen = site.room("Kitchen", "KIT");
    let outlet = site.outlet(kitchen, "camera");
    let cable = site.cable(outlet, 0);
    site.does(&Want::RouteHome {
        cables: vec![cable],
        rack: Some(second),
    });
    assert_eq!(
        wall::default_rack(site.registry()),
        Some(second),
        "the last one"
    );

    let unit = None;
    let proposed = |name| wall::proposed_code(site.registry(), name, unit);
    assert_eq!(proposed("Pottery studio"), RoomCode::new("PST").ok());
    assert_ne!(
        proposed("Kitchen"),
        RoomCode::new("KIT").ok(),
        "it is taken"
    );
    assert_eq!(proposed(" "), None);
}

#[test]
fn an_outlet_may_move_to_a_number_that_was_never_used() {
    let mut site = Site::new();
    let kitchen = site.room("Kitchen", "KIT");
    let studio = site.room("Pottery studio", "PST");
    let outlet = site.outlet(kitchen, "data");
    site.outlet(studio, "camera");
    let rooms = wall::target_rooms(site.registry(), outlet);
    let codes: Vec<_> = rooms.iter().map(|room| room.code.as_str()).collect();
    assert_eq!(codes, ["KIT2", "PST2"], "its own room first");
    site.does(&Want::MoveOutlet {
        outlet,
        room: studio,
        number: OutletNumber::new(2).expect("a number"),
    });
    assert_eq!(
        site.out(outlet),
        named(&[("PST2-A", Belongs::Own), ("PST2-B", Belongs::Own)])
    );
    assert_eq!(wall::target_rooms(site.registry(), outlet)[0].code, "PST3");
}

#[test]
fn slack_waiting_and_change_orders_are_delivered_as_they_are_known() {
    let mut site = Site::new();
    let kitchen = site.room("Kitchen", "KIT");
    let outlet = site.outlet(kitchen, "data");
    let seen = |site: &Site| wall::outlet(site.registry(), outlet).expect("the outlet");
    let row = |site: &Site| {
        wall::room(site.registry(), kitchen)
            .expect("the room")
            .outlets[0]
            .clone()
    };
    assert_eq!((seen(&site).slack, seen(&site).waits), (None, None));
    let slack = Slack {
        length: Some(Millimetres(600)),
        place: "in the box".to_owned(),
    };
    let waiting = |whom| Waiting {
        whom,
        words: "Left or right?".to_owned(),
    };
    let order = "CO 7".to_owned();
    site.does(&Want::LeaveSlack {
        outlet,
        slack: slack.clone(),
    });
    site.does(&Want::LetOutletWait {
        outlet,
        waiting: waiting(WaitsFor::Client),
    });
    site.does(&Want::OrderOutlet {
        outlet,
        order: order.clone(),
    });
    let cable = site.cable(outlet, 1);
    site.does(&Want::OrderCable {
        cable,
        order: "CO 9".to_owned(),
    });
    assert_eq!(seen(&site).slack, Some(slack.clone()));
    assert_eq!(seen(&site).order, order);
    assert_eq!(seen(&site).waits, Some(waiting(WaitsFor::Client)));
    assert_eq!(row(&site).waits, seen(&site).waits);
    let orders: Vec<String> = seen(&site).ends.into_iter().map(|end| end.order).collect();
    assert_eq!(orders, ["", "CO 9"], "what each cable came with itself");
    let both = [0, 1].map(|at| view(&site.journal, site.cable(outlet, at)).expect("a cable"));
    assert_eq!([&both[0].order, &both[1].order], ["CO 7", "CO 9"]);
    for cable in both {
        assert_eq!(cable.slack, Some(slack.clone()));
        assert_eq!(cable.waits, Some(waiting(WaitsFor::Client)));
    }
    // Waiting for nobody is no waiting, whatever was asked before.
    site.does(&Want::LetOutletWait {
        outlet,
        waiting: waiting(WaitsFor::Nobody),
    });
    assert_eq!((seen(&site).waits, row(&site).waits), (None, None));
}

#[test]
fn what_was_cancelled_is_listed_where_it_was_with_its_reason() {
    let mut site = Site::new();
    let kitchen = site.room("Kitchen", "KIT");
    let [kept, gone] = ["data", "camera"].map(|kind| site.outlet(kitchen, kind));
    let cable = site.cable(kept, 0);
    assert_eq!(wall::cancelled_in(site.registry(), kitchen), []);
    assert_eq!(wall::cancelled_at(site.registry(), kept), []);
    site.does(&Want::CancelOutlet {
        outlet: gone,
        reason: "The client changed it".to_owned(),
    });
    site.does(&Want::CancelCable {
        cable,
        reason: "Not needed".to_owned(),
    });
    let outlets = wall::cancelled_in(site.registry(), kitchen);
    let told: Vec<_> = outlets
        .iter()
        .map(|gone| (gone.id, &*gone.code, &*gone.name))
        .collect();
    assert_eq!(told, [(gone, "KIT2", "The client changed it")]);
    let cables = wall::cancelled_at(site.registry(), kept);
    let told: Vec<_> = cables
        .iter()
        .map(|gone| (gone.id, &*gone.code, &*gone.name))
        .collect();
    assert_eq!(told, [(cable, "KIT1-A", "Not needed")]);
    site.does(&Want::RestoreOutlet { outlet: gone });
    assert_eq!(wall::cancelled_in(site.registry(), kitchen), []);
}
