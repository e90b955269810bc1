//! Generated ids, texts, facts and acts, and how many of them a run tries.

use bothends::domain::ids::{ActId, Bits80, OutletTypeId, ThingId, WriterId};
use bothends::domain::label::{
    LegNumber, Letter, OutletNumber, PanelLetters, PositionNumber, RoomCode, SpaceCode,
};
use bothends::domain::length::{FootageMark, LengthUnit, Millimetres};
use bothends::domain::medium::{Conductors, Connector, Kind, Medium, Sheath};
use bothends::domain::mount::{BlockKind, Mount, RackBuild, Units};
use bothends::domain::outlet_type::{OutletKind, PlannedCable, UsualType};
use bothends::domain::picture::{Digest, Point, Seen, Shows, Spotted};
use bothends::domain::place::{
    ConduitEnd, End, Face, Fitting, Leaves, Place, Placement, Position, RunName, Side,
};
use bothends::domain::work::{
    Availability, CoverCheck, JointKind, Lying, MarkKind, Pinout, PullOutcome, Slack, Spot,
    Standing, TestMethod, TestOutcome, Waiting, WaitsFor, WallBox,
};
use bothends::journal::{
    Act, BlockFact, CableFact, ConduitFact, CopperTest, Cover, CoverOk, DeviceFact, EndFact,
    EndOfPull, Fact, FactRef, FloorFact, Found, JobFact, JointFact, Lamport, LooseEndFact, Mark,
    OutletFact, OutletTypeFact, PanelFact, PanelMake, PanelSize, PictureFact, PrintedSheet,
    PullFact, PullRef, RackFact, RoomFact, UnitFact, WallTime,
};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use proptest::sample::{select, subsequence};
use proptest::strategy::Union;

/// Where generated facts take their ids and words from.
#[derive(Clone)]
pub(crate) struct Source {
    pub(crate) thing: BoxedStrategy<ThingId>,
    pub(crate) text: BoxedStrategy<String>,
}

impl Source {
    /// Anything that the types allow.
    pub(crate) fn anything() -> Self {
        let text = prop_oneof![
            4 => "[ -~äßΩ☃𝄞\"\\\\\u{0}-\u{1f}\u{7f}\u{2028}]{0,12}",
            1 => any::<String>(),
        ];
        Self {
            thing: any_thing().boxed(),
            text: text.boxed(),
        }
    }

    fn of<I: From<ThingId> + std::fmt::Debug + Clone + 'static>(&self) -> BoxedStrategy<I> {
        self.thing.clone().prop_map(I::from).boxed()
    }

    fn text(&self) -> BoxedStrategy<String> {
        self.text.clone()
    }
}

fn any_thing() -> impl Strategy<Value = ThingId> {
    (any::<[u8; 10]>(), any::<u32>(), any::<u32>()).prop_map(|(origin, n, index)| ThingId {
        origin: Bits80(origin),
        n,
        index,
    })
}

fn any_act_id() -> impl Strategy<Value = ActId> {
    (any::<[u8; 10]>(), any::<u32>()).prop_map(|(writer, n)| ActId {
        writer: WriterId(Bits80(writer)),
        n,
    })
}

/// Any act that the working types allow.
pub(crate) fn any_act() -> impl Strategy<Value = Act> {
    let source = Source::anything();
    let fact_ref = (any_act_id(), any::<u32>()).prop_map(|(act, fact)| FactRef { act, fact });
    let number = 0..=Lamport::MAX.get();
    (
        any_act_id(),
        number.clone(),
        number,
        source.text(),
        vec(any_thing(), 0..4),
        vec(fact_ref, 0..4),
        vec(any_act_id(), 0..3),
        vec(any_fact(&source), 0..6),
    )
        .prop_map(
            |(id, lamport, wall, by, about, replaces, strikes, facts)| Act {
                id,
                lamport: Lamport::new(lamport).expect("in range"),
                wall: WallTime(wall),
                by: by.into(),
                about: about.into(),
                replaces: replaces.into(),
                strikes: strikes.into(),
                facts: facts.into(),
            },
        )
}

/// One strategy out of several, each as likely.
macro_rules! any_of {
    ($($strategy:expr),* $(,)?) => {
        Union::new([$($strategy.boxed()),*]).boxed()
    };
}

/// Any fact of any kind.
pub(crate) fn any_fact(from: &Source) -> BoxedStrategy<Fact> {
    any_of![
        any_of![
            from.text().prop_map(|text| Fact::Job(JobFact::Named(text))),
            select(vec![Pinout::A, Pinout::B])
                .prop_map(|pinout| Fact::Job(JobFact::PinoutChosen(pinout))),
            from.text()
                .prop_map(|text| Fact::Job(JobFact::TagAddressSet(text))),
            (any::<u16>(), option::of(medium(from)))
                .prop_map(|(number, medium)| Fact::Job(JobFact::BoxHolds { number, medium })),
            (any::<u16>(), from.text(), any::<u16>()).prop_map(|(number, stock, tags)| {
                Fact::Job(JobFact::TagsPrinted(PrintedSheet {
                    number,
                    stock,
                    tags,
                }))
            }),
            (any::<u16>(), mark(from)).prop_map(|(number, mark)| {
                Fact::Job(JobFact::BoxTagged {
                    number,
                    kind: mark.kind,
                    text: mark.text,
                })
            }),
        ],
        (from.of(), unit_fact(from)).prop_map(|(id, fact)| Fact::Unit(id, fact)),
        (from.of(), floor_fact(from)).prop_map(|(id, fact)| Fact::Floor(id, fact)),
        (from.of(), room_fact(from)).prop_map(|(id, fact)| Fact::Room(id, fact)),
        (from.of(), type_fact(from)).prop_map(|(id, fact)| Fact::OutletType(id, fact)),
        (from.of(), outlet_fact(from)).prop_map(|(id, fact)| Fact::Outlet(id, fact)),
        (from.of(), cable_fact(from)).prop_map(|(id, fact)| Fact::Cable(id, fact)),
        (pull_ref(from), pull_fact(from)).prop_map(|(pull, fact)| Fact::Pull(pull, fact)),
        (end(from), from.thing.clone(), any::<bool>(), end_fact(from)).prop_map(
            |(end, other, first, fact)| {
                let pull = if first { end.cable.0 } else { other }.into();
                Fact::End(EndOfPull { end, pull }, fact)
            }
        ),
        from.of().prop_map(Fact::JacketAdded),
        (from.of(), rack_fact(from)).prop_map(|(id, fact)| Fact::Rack(id, fact)),
        (from.of(), panel_fact(from)).prop_map(|(id, fact)| Fact::Panel(id, fact)),
        (position(from), availability(from))
            .prop_map(|(position, kept)| Fact::PositionKept(position, kept)),
        (position(from), option::of(place(from)))
            .prop_map(|(position, to)| Fact::PositionPatched(position, to)),
        (from.of(), device_fact(from)).prop_map(|(id, fact)| Fact::Device(id, fact)),
        (from.of(), joint_fact(from)).prop_map(|(id, fact)| Fact::Joint(id, fact)),
        (from.of(), loose_fact(from)).prop_map(|(id, fact)| Fact::LooseEnd(id, fact)),
        (from.of(), picture_fact(from)).prop_map(|(id, fact)| Fact::Picture(id, fact)),
        (from.of(), conduit_fact(from)).prop_map(|(id, fact)| Fact::Conduit(id, fact)),
        (from.of(), block_fact(from)).prop_map(|(id, fact)| Fact::Block(id, fact)),
        prop_oneof![
            from.text().prop_map(|text| format!("Later{text}")),
            // A known kind without what it needs stays unknown, and the kind is kept.
            Just("RoomNamed".to_owned()),
            Just("CableToRack".to_owned()),
            Just(String::new()),
        ]
        .prop_map(|kind| Fact::Unknown { kind }),
    ]
}

fn unit_fact(from: &Source) -> BoxedStrategy<UnitFact> {
    any_of![Just(UnitFact::Added), from.text().prop_map(UnitFact::Named)]
}

fn floor_fact(from: &Source) -> BoxedStrategy<FloorFact> {
    any_of![
        Just(FloorFact::Added),
        from.text().prop_map(FloorFact::Named),
        any::<u8>().prop_map(FloorFact::Numbered),
        from.text().prop_map(FloorFact::OnSheet),
    ]
}

fn room_fact(from: &Source) -> BoxedStrategy<RoomFact> {
    any_of![
        Just(RoomFact::Added),
        from.text().prop_map(RoomFact::Named),
        "[A-C]{2}|[A-Z]{2,5}"
            .prop_map(|code| RoomFact::Coded(RoomCode::new(&code).expect("a room code"))),
        from.of().prop_map(RoomFact::OnFloor),
        from.of().prop_map(RoomFact::InUnit),
        any::<u32>().prop_map(RoomFact::Ordered),
        cover(from).prop_map(RoomFact::Covering),
    ]
}

fn type_fact(from: &Source) -> BoxedStrategy<OutletTypeFact> {
    let planned =
        (option::of(letter()), medium(from), from.text()).prop_map(|(letter, medium, purpose)| {
            PlannedCable {
                letter,
                medium,
                purpose,
            }
        });
    any_of![
        Just(OutletTypeFact::Added),
        from.text().prop_map(OutletTypeFact::Named),
        vec(planned, 0..4).prop_map(OutletTypeFact::Holds),
    ]
}

fn outlet_fact(from: &Source) -> BoxedStrategy<OutletFact> {
    let number = (1..=99_u8).prop_map(|number| OutletNumber::new(number).expect("1 to 99"));
    let usual = UsualType::all().iter().map(|usual| usual.key);
    let millimetres = || option::of(any::<i32>().prop_map(Millimetres));
    let spot = (from.text(), millimetres(), millimetres(), from.text());
    any_of![
        Just(OutletFact::Added),
        (from.of(), number).prop_map(|(room, number)| OutletFact::Numbered { room, number }),
        select(usual.collect::<Vec<_>>()).prop_map(|key| OutletFact::Typed(OutletKind::Usual(key))),
        from.of::<OutletTypeId>()
            .prop_map(|own| OutletFact::Typed(OutletKind::Own(own))),
        from.text().prop_map(OutletFact::Purposed),
        spot.prop_map(|(wall, height, offset, offset_from)| {
            OutletFact::Placed(Spot {
                wall,
                height,
                offset,
                offset_from,
            })
        }),
        prop_oneof![
            Just(WallBox::None),
            Just(WallBox::Ring),
            (1..=6_u8).prop_map(WallBox::Gangs),
        ]
        .prop_map(OutletFact::Boxed),
        standing(from).prop_map(OutletFact::Stands),
        from.text().prop_map(OutletFact::Noted),
        (option::of(0..=i32::MAX), from.text()).prop_map(|(length, place)| {
            let length = length.map(Millimetres);
            OutletFact::Slack(Slack { length, place })
        }),
        (select(WAITS_FOR.to_vec()), from.text())
            .prop_map(|(whom, words)| OutletFact::Waits(Waiting { whom, words })),
        from.text().prop_map(OutletFact::ChangeOrdered),
        mark(from).prop_map(OutletFact::Tagged),
    ]
}

fn cable_fact(from: &Source) -> BoxedStrategy<CableFact> {
    any_of![
        Just(CableFact::Added),
        (from.of(), letter())
            .prop_map(|(outlet, letter)| { CableFact::Named(RunName::Feeds { outlet, letter }) }),
        (from.of(), from.of(), any::<u16>()).prop_map(|(near, far, number)| {
            CableFact::Named(RunName::Ties { near, far, number })
        }),
        option::of(from.of()).prop_map(|rack| CableFact::Leaves(Leaves::Rack(rack))),
        from.of()
            .prop_map(|outlet| CableFact::Leaves(Leaves::Outlet(outlet))),
        medium(from).prop_map(CableFact::MadeOf),
        from.text().prop_map(CableFact::Purposed),
        from.of().prop_map(CableFact::InJacket),
        standing(from).prop_map(CableFact::Stands),
        (from.text(), vec(any_act_id(), 0..3))
            .prop_map(|(reason, known)| CableFact::Cancelled { reason, known }),
        from.text().prop_map(CableFact::KnownAs),
        (from.text(), from.text()).prop_map(|(tag, called)| CableFact::TagKept { tag, called }),
        from.text().prop_map(CableFact::Noted),
        (from.of(), from.text(), option::of(vec(any_act_id(), 0..3))).prop_map(
            |(pull, reason, known)| CableFact::Repulled {
                pull,
                reason,
                known
            }
        ),
        from.text().prop_map(CableFact::ChangeOrdered),
        (from.of(), lying())
            .prop_map(|(conduit, lying)| CableFact::PassesThrough { conduit, lying }),
    ]
}

fn pull_ref(from: &Source) -> BoxedStrategy<PullRef> {
    (from.thing.clone(), from.thing.clone(), any::<bool>())
        .prop_map(|(cable, other, first)| PullRef {
            cable: cable.into(),
            pull: if first { cable } else { other }.into(),
        })
        .boxed()
}

fn pull_fact(from: &Source) -> BoxedStrategy<PullFact> {
    let outcome = select(vec![
        PullOutcome::Pulled,
        PullOutcome::Short,
        PullOutcome::Stuck,
        PullOutcome::Damaged,
    ]);
    let method = select(vec![
        TestMethod::Toner,
        TestMethod::WireMap,
        TestMethod::Remote,
        TestMethod::Continuity,
        TestMethod::Certification,
    ]);
    let result = select(vec![TestOutcome::Passed, TestOutcome::Failed]);
    any_of![
        outcome.prop_map(PullFact::Reported),
        any::<u16>().prop_map(PullFact::DrawnFrom),
        (method, result, from.text()).prop_map(|(method, outcome, note)| {
            PullFact::Tested(CopperTest {
                method,
                outcome,
                note,
            })
        }),
    ]
}

fn end(from: &Source) -> BoxedStrategy<End> {
    (
        from.of(),
        select(vec![Side::Near, Side::Far]),
        option::of(leg()),
    )
        .prop_map(|(cable, side, leg)| End { cable, side, leg })
        .boxed()
}

fn end_fact(from: &Source) -> BoxedStrategy<EndFact> {
    let fitting = select(vec![Fitting::Direct, Fitting::Adapter, Fitting::Plug]);
    let landed = (place(from), fitting)
        .prop_map(|(place, fitting)| EndFact::Placed(Placement::Landed { place, fitting }));
    any_of![
        option::of(place(from)).prop_map(EndFact::Planned),
        landed.clone(),
        landed,
        Just(EndFact::Placed(Placement::Lifted)),
        (from.text(), from.text())
            .prop_map(|(kept, reason)| EndFact::Placed(Placement::Spare { kept, reason })),
        from.text()
            .prop_map(|reason| EndFact::Placed(Placement::Dead { reason })),
        leg().prop_map(EndFact::Split),
        mark(from).prop_map(EndFact::Marked),
        Just(EndFact::TagLost),
        from.text().prop_map(|at| EndFact::Seen { at }),
        (
            any::<u32>(),
            select(vec![LengthUnit::Feet, LengthUnit::Metres])
        )
            .prop_map(|(value, unit)| EndFact::Footage(FootageMark { value, unit })),
    ]
}

fn mark(from: &Source) -> BoxedStrategy<Mark> {
    let kind = select(vec![MarkKind::Pen, MarkKind::Printed, MarkKind::Fixed]);
    (kind, any::<u8>(), from.text())
        .prop_map(|(kind, copies, text)| Mark { kind, copies, text })
        .boxed()
}

fn rack_fact(from: &Source) -> BoxedStrategy<RackFact> {
    any_of![
        Just(RackFact::Added),
        (0..=99_u8, "[A-B]|[A-Z]{1,2}").prop_map(|(floor, letters)| {
            RackFact::InSpace(SpaceCode::new(floor, &letters).expect("a space code"))
        }),
        from.text().prop_map(RackFact::Named),
        from.of().prop_map(RackFact::InRoom),
        mark(from).prop_map(RackFact::Tagged),
        units().prop_map(|units| RackFact::Built(RackBuild::Units(units))),
        select(vec![
            RackBuild::Enclosure,
            RackBuild::Board,
            RackBuild::Rail
        ])
        .prop_map(RackFact::Built),
    ]
}

fn panel_fact(from: &Source) -> BoxedStrategy<PanelFact> {
    let connector = select(Connector::all().collect::<Vec<_>>());
    any_of![
        (connector, 1..=96_u16).prop_map(|(connector, count)| {
            let positions = PanelSize::new(count).expect("1 to 96");
            PanelFact::Added(PanelMake {
                connector,
                positions,
            })
        }),
        from.of().prop_map(PanelFact::InRack),
        "[A-B]|[A-Z]{1,2}".prop_map(|letters| {
            PanelFact::Lettered(PanelLetters::new(&letters).expect("panel letters"))
        }),
        option::of(any::<u8>()).prop_map(PanelFact::AtUnit),
        from.text().prop_map(PanelFact::Purposed),
        mark(from).prop_map(PanelFact::Tagged),
        from.text().prop_map(PanelFact::StripPrinted),
        units().prop_map(PanelFact::High),
    ]
}

fn units() -> BoxedStrategy<Units> {
    let count = 1..=60_u8;
    count
        .prop_map(|count| Units::new(count).expect("1 to 60"))
        .boxed()
}

fn mount(from: &Source) -> BoxedStrategy<Mount> {
    let face = select(vec![Face::Front, Face::Rear]);
    (from.of(), option::of(any::<u8>()), units(), face)
        .prop_map(|(rack, unit, height, face)| Mount {
            rack,
            unit,
            height,
            face,
        })
        .boxed()
}

fn block_fact(from: &Source) -> BoxedStrategy<BlockFact> {
    any_of![
        select(BlockKind::ALL.to_vec()).prop_map(BlockFact::Added),
        from.text().prop_map(BlockFact::Named),
        mount(from).prop_map(BlockFact::Mounted),
        standing(from).prop_map(BlockFact::Stands),
    ]
}

fn device_fact(from: &Source) -> BoxedStrategy<DeviceFact> {
    any_of![
        Just(DeviceFact::Added),
        from.text().prop_map(DeviceFact::Named),
        from.of().prop_map(DeviceFact::InRoom),
        from.text().prop_map(DeviceFact::Model),
        from.text().prop_map(DeviceFact::Serial),
        option::of(mount(from)).prop_map(DeviceFact::Mounted),
    ]
}

fn joint_fact(from: &Source) -> BoxedStrategy<JointFact> {
    let kind = select(vec![
        JointKind::Splice,
        JointKind::Barrel,
        JointKind::Splitter,
        JointKind::SurgeArrester,
    ]);
    any_of![
        kind.prop_map(JointFact::Added),
        from.text().prop_map(JointFact::Named),
        from.of().prop_map(JointFact::InRoom),
    ]
}

fn loose_fact(from: &Source) -> BoxedStrategy<LooseEndFact> {
    let found = (
        from.text(),
        option::of(from.of()),
        option::of(medium(from)),
        from.text(),
    );
    any_of![
        any::<u16>().prop_map(|number| LooseEndFact::Added { number }),
        found.prop_map(|(place, room, medium, note)| {
            LooseEndFact::Found(Box::new(Found {
                place,
                room,
                medium,
                note,
            }))
        }),
        end(from).prop_map(LooseEndFact::Joined),
        Just(LooseEndFact::Parted),
    ]
}

fn lying() -> BoxedStrategy<Lying> {
    select(vec![Lying::In, Lying::Out]).boxed()
}

fn conduit_fact(from: &Source) -> BoxedStrategy<ConduitFact> {
    let at = any_of![
        from.of().prop_map(ConduitEnd::Outlet),
        from.of().prop_map(ConduitEnd::Rack),
        from.of().prop_map(ConduitEnd::Room),
        from.text().prop_map(ConduitEnd::Words),
    ];
    any_of![
        (1..=u16::MAX).prop_map(|number| ConduitFact::Added { number }),
        (select(Side::BOTH.to_vec()), at).prop_map(|(side, at)| ConduitFact::Reaches { side, at }),
        from.text().prop_map(ConduitFact::Sized),
        lying().prop_map(ConduitFact::PullString),
        from.text().prop_map(ConduitFact::Noted),
        standing(from).prop_map(ConduitFact::Stands),
        mark(from).prop_map(ConduitFact::Tagged),
    ]
}

const WAITS_FOR: [WaitsFor; 5] = [
    WaitsFor::Nobody,
    WaitsFor::Hold,
    WaitsFor::Builder,
    WaitsFor::Client,
    WaitsFor::Others,
];

fn cover(from: &Source) -> BoxedStrategy<Cover> {
    let ok = (
        any::<u16>(),
        subsequence(CoverCheck::ALL.to_vec(), 0..=CoverCheck::ALL.len()),
        from.text(),
        vec(any_act_id(), 0..3),
    );
    any_of![
        from.text().prop_map(|reason| Cover::NotYet { reason }),
        ok.prop_map(|(counted, checks, note, known)| {
            Cover::Ok(CoverOk {
                counted,
                checks,
                note,
                known,
            })
        }),
        Just(Cover::Closed),
    ]
}

fn picture_fact(from: &Source) -> BoxedStrategy<PictureFact> {
    let shows = any_of![
        from.of().prop_map(Shows::Outlet),
        from.of().prop_map(Shows::Room),
        from.of().prop_map(Shows::LooseEnd),
        from.of().prop_map(Shows::Plan),
    ];
    let seen = any_of![
        from.of().prop_map(Seen::Cable),
        from.of().prop_map(Seen::Outlet)
    ];
    let on = 0..=Spotted::WHOLE;
    let point = (seen, on.clone(), on, from.text()).prop_map(|(what, x, y, offset)| {
        let at = Spotted::new(x, y).expect("on the picture");
        Point { what, at, offset }
    });
    any_of![
        any::<[u8; 32]>().prop_map(|bytes| PictureFact::Added(Digest(bytes))),
        shows.prop_map(PictureFact::Shows),
        from.text().prop_map(PictureFact::Noted),
        vec(point, 0..4).prop_map(PictureFact::Points),
        standing(from).prop_map(PictureFact::Stands),
    ]
}

fn letter() -> impl Strategy<Value = Letter> + Clone {
    select(Letter::all().collect::<Vec<_>>())
}

fn leg() -> impl Strategy<Value = LegNumber> + Clone {
    (1..=16_u8).prop_map(|number| LegNumber::new(number).expect("1 to 16"))
}

fn position(from: &Source) -> BoxedStrategy<Position> {
    (from.of(), prop_oneof![1..=3_u16, 1..=9_999_u16])
        .prop_map(|(panel, number)| Position {
            panel,
            number: PositionNumber::new(number).expect("1 to 9999"),
        })
        .boxed()
}

fn place(from: &Source) -> BoxedStrategy<Place> {
    any_of![
        (from.of(), letter()).prop_map(|(outlet, jack)| Place::Jack { outlet, jack }),
        (position(from), select(vec![Face::Rear, Face::Front]))
            .prop_map(|(position, face)| Place::Position { position, face }),
        (from.of(), from.text()).prop_map(|(device, port)| Place::Device { device, port }),
        (from.of(), any::<u8>()).prop_map(|(joint, way)| Place::Joint { joint, way }),
    ]
}

fn availability(from: &Source) -> BoxedStrategy<Availability> {
    any_of![
        Just(Availability::Open),
        from.text()
            .prop_map(|reason| Availability::Reserved { reason }),
        from.text().prop_map(|reason| Availability::Bad { reason }),
    ]
}

fn standing(from: &Source) -> BoxedStrategy<Standing> {
    any_of![
        Just(Standing::Wanted),
        from.text()
            .prop_map(|reason| Standing::Cancelled { reason }),
    ]
}

fn medium(from: &Source) -> BoxedStrategy<Medium> {
    let sheath = select(vec![Sheath::Indoor, Sheath::DirectBurial]);
    let conductors = || (any::<u8>(), any::<u8>());
    let made = |(gauge, count): (u8, u8)| Conductors { gauge, count };
    let kind = any_of![
        select(Medium::stock()).prop_map(|medium| medium.kind),
        conductors().prop_map(move |c| Kind::Speaker(made(c))),
        conductors().prop_map(move |c| Kind::Control(made(c))),
        any::<u16>().prop_map(|strands| Kind::Fibre { strands }),
        from.text().prop_map(Kind::Own),
    ];
    (kind, sheath)
        .prop_map(|(kind, sheath)| Medium { kind, sheath })
        .boxed()
}
