//! Facts from their stored form, kind by kind. An unknown kind or value gives none.

use super::object::Object;
use super::text::Str;
use super::words::{Word, whole_number};
use super::{FactV1, PlaceV1, PlannedV1, PointV1, SpotV1};
use crate::domain::ids::{ActId, PullId, ThingId};
use crate::domain::label::{
    LegNumber, Letter, OutletNumber, PanelLetters, PositionNumber, RoomCode, SpaceCode,
};
use crate::domain::length::{FootageMark, Millimetres};
use crate::domain::medium::{Connector, Medium};
use crate::domain::mount::{Mount, RackBuild, Units};
use crate::domain::outlet_type::{OutletKind, PlannedCable};
use crate::domain::picture::{Point, Seen, Shows, Spotted};
use crate::domain::place::{ConduitEnd, End, Face, Leaves, Place, Placement, Position, RunName};
use crate::domain::work::{Availability, Slack, Spot, Standing, Waiting, WallBox};
use crate::journal::fact::{
    BlockFact, CableFact, ConduitFact, CopperTest, Cover, CoverOk, DeviceFact, EndFact, EndOfPull,
    Fact, FloorFact, Found, JobFact, JointFact, LooseEndFact, Mark, OutletFact, OutletTypeFact,
    PanelFact, PanelMake, PanelSize, PictureFact, PrintedSheet, PullFact, PullRef, RackFact,
    RoomFact, UnitFact,
};

/// The fields of a stored fact as working values; each is none when it is absent or unknown.
impl FactV1<'_> {
    fn thing<I: From<ThingId>>(&self) -> Option<I> {
        thing_id(self.of.as_ref()).map(I::from)
    }

    fn other<I: From<ThingId>>(&self) -> Option<I> {
        thing_id(self.to.as_ref()).map(I::from)
    }

    #[inline(never)]
    fn words(&self) -> Option<String> {
        self.text.as_deref().map(str::to_owned)
    }

    #[inline(never)]
    fn reason(&self) -> String {
        self.note.as_deref().unwrap_or_default().to_owned()
    }

    fn code(&self) -> Option<&str> {
        self.code.as_deref()
    }

    fn word<W: Word>(&self) -> Option<W> {
        W::value(self.code()?)
    }

    fn number<N: TryFrom<u32>>(&self) -> Option<N> {
        N::try_from(self.n?).ok()
    }

    fn known(&self) -> Option<Vec<ActId>> {
        self.known.as_ref()?.0.as_deref().map(<[ActId]>::to_vec)
    }

    #[inline(never)]
    fn mark(&self) -> Option<Mark> {
        Some(Mark {
            kind: self.word()?,
            copies: self.number()?,
            text: self.words()?,
        })
    }

    #[inline(never)]
    fn end_of(&self, cable: Option<ThingId>) -> Option<End> {
        let leg = known(self.leg, LegNumber::new)?;
        Some(End {
            cable: cable?.into(),
            side: Word::value(self.side.as_deref()?)?,
            leg,
        })
    }

    #[inline(never)]
    fn pull_of(&self) -> Option<PullId> {
        match &self.pull {
            Some(pull) => pull.parse().ok().map(PullId),
            None => self.thing(),
        }
    }

    #[inline(never)]
    fn units(&self) -> Option<Units> {
        Units::new(self.number()?)
    }

    #[inline(never)]
    fn mount(&self) -> Option<Mount> {
        Some(Mount {
            rack: self.other()?,
            unit: known(self.n, |n| u8::try_from(n).ok())?,
            height: Units::new(whole_number(self.text.as_deref()?)?)?,
            face: self.word()?,
        })
    }

    #[inline(never)]
    fn position(&self) -> Option<Position> {
        Some(Position {
            panel: self.thing()?,
            number: PositionNumber::new(self.number()?)?,
        })
    }
}

// These are asked for by every kind of fact, and nothing is gained where a copy of them stands at each.
#[inline(never)]
fn thing_id(text: Option<&Str<'_>>) -> Option<ThingId> {
    text?.parse().ok()
}

/// An optional field: absent stays absent, while an unknown value makes the whole fact unknown.
fn known<T, U>(value: Option<T>, read: impl FnOnce(T) -> Option<U>) -> Option<Option<U>> {
    match value {
        None => Some(None),
        Some(value) => read(value).map(Some),
    }
}

pub(super) fn fact(shape: &FactV1<'_>) -> Option<Fact> {
    if let Some(fact) = cable(shape) {
        return Some(Fact::Cable(shape.thing()?, fact));
    }
    if let Some(fact) = end(shape) {
        let end = shape.end_of(shape.thing())?;
        return Some(Fact::End(
            EndOfPull {
                end,
                pull: shape.pull_of()?,
            },
            fact,
        ));
    }
    if let Some(fact) = pull(shape) {
        return Some(Fact::Pull(
            PullRef {
                cable: shape.thing()?,
                pull: shape.pull_of()?,
            },
            fact,
        ));
    }
    if let Some(fact) = outlet(shape) {
        return Some(Fact::Outlet(shape.thing()?, fact));
    }
    if let Some(fact) = room(shape) {
        return Some(Fact::Room(shape.thing()?, fact));
    }
    if let Some(fact) = panel(shape) {
        return Some(Fact::Panel(shape.thing()?, fact));
    }
    other(shape)
}

fn other(shape: &FactV1<'_>) -> Option<Fact> {
    Some(match &*shape.k {
        "JobNamed" => Fact::Job(JobFact::Named(shape.words()?)),
        "PinoutChosen" => Fact::Job(JobFact::PinoutChosen(shape.word()?)),
        "TagAddressSet" => Fact::Job(JobFact::TagAddressSet(shape.words()?)),
        "BoxHolds" => Fact::Job(JobFact::BoxHolds {
            number: shape.number()?,
            medium: known(shape.code(), Medium::from_key)?,
        }),
        "TagsPrinted" => Fact::Job(JobFact::TagsPrinted(PrintedSheet {
            number: shape.number()?,
            stock: shape.words()?,
            tags: whole_number(shape.code()?)?,
        })),
        "BoxTagged" => Fact::Job(JobFact::BoxTagged {
            number: shape.number()?,
            kind: shape.word()?,
            text: shape.words()?,
        }),
        "UnitAdded" => Fact::Unit(shape.thing()?, UnitFact::Added),
        "UnitNamed" => Fact::Unit(shape.thing()?, UnitFact::Named(shape.words()?)),
        "FloorAdded" => Fact::Floor(shape.thing()?, FloorFact::Added),
        "FloorNamed" => Fact::Floor(shape.thing()?, FloorFact::Named(shape.words()?)),
        "FloorNumbered" => Fact::Floor(shape.thing()?, FloorFact::Numbered(shape.number()?)),
        "FloorOnSheet" => Fact::Floor(shape.thing()?, FloorFact::OnSheet(shape.words()?)),
        "OutletTypeAdded" => Fact::OutletType(shape.thing()?, OutletTypeFact::Added),
        "OutletTypeNamed" => {
            Fact::OutletType(shape.thing()?, OutletTypeFact::Named(shape.words()?))
        }
        "OutletTypeHolds" => {
            let cables = shape
                .cables
                .as_ref()?
                .iter()
                .map(planned)
                .collect::<Option<_>>()?;
            Fact::OutletType(shape.thing()?, OutletTypeFact::Holds(cables))
        }
        "JacketAdded" => Fact::JacketAdded(shape.thing()?),
        "RackAdded" => Fact::Rack(shape.thing()?, RackFact::Added),
        "RackInSpace" => {
            let space = SpaceCode::new(shape.number()?, shape.code()?).ok()?;
            Fact::Rack(shape.thing()?, RackFact::InSpace(space))
        }
        "RackNamed" => Fact::Rack(shape.thing()?, RackFact::Named(shape.words()?)),
        "RackInRoom" => Fact::Rack(shape.thing()?, RackFact::InRoom(shape.other()?)),
        "RackTagged" => Fact::Rack(shape.thing()?, RackFact::Tagged(shape.mark()?)),
        "RackBuilt" => Fact::Rack(shape.thing()?, RackFact::Built(build(shape)?)),
        "PositionOpen" => Fact::PositionKept(shape.position()?, Availability::Open),
        "PositionReserved" => Fact::PositionKept(
            shape.position()?,
            Availability::Reserved {
                reason: shape.reason(),
            },
        ),
        "PositionBad" => Fact::PositionKept(
            shape.position()?,
            Availability::Bad {
                reason: shape.reason(),
            },
        ),
        "PositionPatched" => {
            Fact::PositionPatched(shape.position()?, known(shape.at.as_deref(), place)?)
        }
        "DeviceModel" => Fact::Device(shape.thing()?, DeviceFact::Model(shape.words()?)),
        "DeviceSerial" => Fact::Device(shape.thing()?, DeviceFact::Serial(shape.words()?)),
        "DeviceAdded" => Fact::Device(shape.thing()?, DeviceFact::Added),
        "DeviceNamed" => Fact::Device(shape.thing()?, DeviceFact::Named(shape.words()?)),
        "DeviceInRoom" => Fact::Device(shape.thing()?, DeviceFact::InRoom(shape.other()?)),
        "DeviceMounted" => {
            let mount = known(shape.to.as_ref(), |_| shape.mount())?;
            Fact::Device(shape.thing()?, DeviceFact::Mounted(mount))
        }
        "JointAdded" => Fact::Joint(shape.thing()?, JointFact::Added(shape.word()?)),
        "JointNamed" => Fact::Joint(shape.thing()?, JointFact::Named(shape.words()?)),
        "JointInRoom" => Fact::Joint(shape.thing()?, JointFact::InRoom(shape.other()?)),
        "LooseEndAdded" => Fact::LooseEnd(
            shape.thing()?,
            LooseEndFact::Added {
                number: shape.number()?,
            },
        ),
        "LooseEndFound" => {
            Fact::LooseEnd(shape.thing()?, LooseEndFact::Found(Box::new(found(shape)?)))
        }
        "LooseEndJoined" => Fact::LooseEnd(
            shape.thing()?,
            LooseEndFact::Joined(shape.end_of(shape.other())?),
        ),
        "LooseEndParted" => Fact::LooseEnd(shape.thing()?, LooseEndFact::Parted),
        kind if kind.starts_with("Block") => Fact::Block(shape.thing()?, block(shape)?),
        kind if kind.starts_with("Picture") => Fact::Picture(shape.thing()?, picture(shape)?),
        _ => Fact::Conduit(shape.thing()?, conduit(shape)?),
    })
}

fn room(shape: &FactV1<'_>) -> Option<RoomFact> {
    Some(match &*shape.k {
        "RoomAdded" => RoomFact::Added,
        "RoomNamed" => RoomFact::Named(shape.words()?),
        "RoomCoded" => RoomFact::Coded(RoomCode::new(shape.code()?).ok()?),
        "RoomOnFloor" => RoomFact::OnFloor(shape.other()?),
        "RoomInUnit" => RoomFact::InUnit(shape.other()?),
        "RoomOrdered" => RoomFact::Ordered(shape.n?),
        "RoomNotToCover" => RoomFact::Covering(Cover::NotYet {
            reason: shape.reason(),
        }),
        "RoomOkToCover" => RoomFact::Covering(Cover::Ok(cover_ok(shape)?)),
        "RoomClosed" => RoomFact::Covering(Cover::Closed),
        _ => return None,
    })
}

fn outlet(shape: &FactV1<'_>) -> Option<OutletFact> {
    Some(match &*shape.k {
        "OutletAdded" => OutletFact::Added,
        "OutletNumbered" => OutletFact::Numbered {
            room: shape.other()?,
            number: OutletNumber::new(shape.number()?)?,
        },
        "OutletTyped" => OutletFact::Typed(match shape.code() {
            Some(key) => OutletKind::usual(key)?,
            None => OutletKind::Own(shape.other()?),
        }),
        "OutletPurposed" => OutletFact::Purposed(shape.words()?),
        "OutletPlaced" => OutletFact::Placed(spot(shape.spot.as_ref()?)),
        "OutletBoxed" => OutletFact::Boxed(match shape.code()? {
            "gangs" => WallBox::Gangs(shape.number().filter(|gangs| (1..=6).contains(gangs))?),
            "ring" => WallBox::Ring,
            "none" => WallBox::None,
            _ => return None,
        }),
        "OutletWanted" => OutletFact::Stands(Standing::Wanted),
        "OutletCancelled" => OutletFact::Stands(Standing::Cancelled {
            reason: shape.reason(),
        }),
        "OutletNoted" => OutletFact::Noted(shape.words()?),
        "OutletSlack" => OutletFact::Slack(Slack {
            length: known(shape.n, |n| i32::try_from(n).ok())?.map(Millimetres),
            place: shape.words()?,
        }),
        "OutletWaits" => OutletFact::Waits(Waiting {
            whom: shape.word()?,
            words: shape.words()?,
        }),
        "OutletChangeOrdered" => OutletFact::ChangeOrdered(shape.words()?),
        "OutletTagged" => OutletFact::Tagged(shape.mark()?),
        _ => return None,
    })
}

fn cable(shape: &FactV1<'_>) -> Option<CableFact> {
    Some(match &*shape.k {
        "CableAdded" => CableFact::Added,
        "CableFeeds" => CableFact::Named(RunName::Feeds {
            outlet: shape.other()?,
            letter: single_letter(shape.code()?)?,
        }),
        "CableTies" => {
            let far = shape.to2.as_deref()?.parse::<ThingId>().ok()?.into();
            CableFact::Named(RunName::Ties {
                near: shape.other()?,
                far,
                number: shape.number()?,
            })
        }
        "CableToRack" => {
            CableFact::Leaves(Leaves::Rack(known(shape.to.as_ref(), |_| shape.other())?))
        }
        "CableFromOutlet" => CableFact::Leaves(Leaves::Outlet(shape.other()?)),
        "CableMadeOf" => CableFact::MadeOf(Medium::from_key(shape.code()?)?),
        "CablePurposed" => CableFact::Purposed(shape.words()?),
        "CableInJacket" => CableFact::InJacket(shape.other()?),
        "CableWanted" => CableFact::Stands(Standing::Wanted),
        "CableCancelled" => {
            let reason = shape.reason();
            match &shape.known {
                None => CableFact::Stands(Standing::Cancelled { reason }),
                Some(_) => CableFact::Cancelled {
                    reason,
                    known: shape.known()?,
                },
            }
        }
        "CableKnownAs" => CableFact::KnownAs(shape.words()?),
        "CableTagKept" => CableFact::TagKept {
            tag: shape.words()?,
            called: shape.reason(),
        },
        "CableNoted" => CableFact::Noted(shape.words()?),
        "CableRepulled" => CableFact::Repulled {
            pull: shape.pull_of()?,
            reason: shape.reason(),
            known: known(shape.known.as_ref(), |_| shape.known())?,
        },
        "CableChangeOrdered" => CableFact::ChangeOrdered(shape.words()?),
        "CablePasses" => CableFact::PassesThrough {
            conduit: shape.other()?,
            lying: shape.word()?,
        },
        _ => return None,
    })
}

fn pull(shape: &FactV1<'_>) -> Option<PullFact> {
    Some(match &*shape.k {
        "PullReported" => PullFact::Reported(shape.word()?),
        "DrawnFromBox" => PullFact::DrawnFrom(shape.number()?),
        "CopperTested" => PullFact::Tested(CopperTest {
            method: shape.word()?,
            outcome: Word::value(shape.text.as_deref()?)?,
            note: shape.reason(),
        }),
        _ => return None,
    })
}

fn end(shape: &FactV1<'_>) -> Option<EndFact> {
    Some(match &*shape.k {
        "EndPlanned" => EndFact::Planned(known(shape.at.as_deref(), place)?),
        "EndLanded" => EndFact::Placed(Placement::Landed {
            place: place(shape.at.as_ref()?)?,
            fitting: shape.word()?,
        }),
        "EndLifted" => EndFact::Placed(Placement::Lifted),
        "EndSpared" => EndFact::Placed(Placement::Spare {
            kept: shape.words()?,
            reason: shape.reason(),
        }),
        "EndDead" => EndFact::Placed(Placement::Dead {
            reason: shape.reason(),
        }),
        "EndSplit" => EndFact::Split(LegNumber::new(shape.number()?)?),
        "EndMarked" => EndFact::Marked(shape.mark()?),
        "TagLost" => EndFact::TagLost,
        "EndSeen" => EndFact::Seen { at: shape.words()? },
        "FootageRead" => EndFact::Footage(FootageMark {
            value: shape.n?,
            unit: shape.word()?,
        }),
        _ => return None,
    })
}

fn panel(shape: &FactV1<'_>) -> Option<PanelFact> {
    Some(match &*shape.k {
        "PanelAdded" => PanelFact::Added(PanelMake {
            connector: Connector::from_key(shape.code()?)?,
            positions: PanelSize::new(shape.number()?)?,
        }),
        "PanelInRack" => PanelFact::InRack(shape.other()?),
        "PanelLettered" => PanelFact::Lettered(PanelLetters::new(shape.code()?).ok()?),
        "PanelAtUnit" => PanelFact::AtUnit(known(shape.n, |n| u8::try_from(n).ok())?),
        "PanelPurposed" => PanelFact::Purposed(shape.words()?),
        "PanelTagged" => PanelFact::Tagged(shape.mark()?),
        "PanelStripPrinted" => PanelFact::StripPrinted(shape.words()?),
        "PanelHigh" => PanelFact::High(shape.units()?),
        _ => return None,
    })
}

fn build(shape: &FactV1<'_>) -> Option<RackBuild> {
    Some(match shape.code()? {
        "units" => RackBuild::Units(shape.units()?),
        "enclosure" => RackBuild::Enclosure,
        "board" => RackBuild::Board,
        "rail" => RackBuild::Rail,
        _ => return None,
    })
}

fn block(shape: &FactV1<'_>) -> Option<BlockFact> {
    Some(match &*shape.k {
        "BlockAdded" => BlockFact::Added(shape.word()?),
        "BlockNamed" => BlockFact::Named(shape.words()?),
        "BlockMounted" => BlockFact::Mounted(shape.mount()?),
        "BlockWanted" => BlockFact::Stands(Standing::Wanted),
        "BlockTakenOut" => BlockFact::Stands(Standing::Cancelled {
            reason: shape.reason(),
        }),
        _ => return None,
    })
}

fn picture(shape: &FactV1<'_>) -> Option<PictureFact> {
    Some(match &*shape.k {
        "PictureAdded" => PictureFact::Added(shape.code()?.parse().ok()?),
        "PictureShows" => PictureFact::Shows(match shape.code()? {
            "outlet" => Shows::Outlet(shape.other()?),
            "room" => Shows::Room(shape.other()?),
            "loose-end" => Shows::LooseEnd(shape.other()?),
            "plan" => Shows::Plan(shape.other()?),
            _ => return None,
        }),
        "PictureNoted" => PictureFact::Noted(shape.words()?),
        "PicturePoints" => {
            let points = shape.points.as_ref()?.iter().map(point);
            PictureFact::Points(points.collect::<Option<_>>()?)
        }
        "PictureWanted" => PictureFact::Stands(Standing::Wanted),
        "PictureDropped" => PictureFact::Stands(Standing::Cancelled {
            reason: shape.reason(),
        }),
        _ => return None,
    })
}

fn conduit(shape: &FactV1<'_>) -> Option<ConduitFact> {
    Some(match &*shape.k {
        "ConduitAdded" => ConduitFact::Added {
            number: shape.number().filter(|number| *number > 0)?,
        },
        "ConduitReaches" => ConduitFact::Reaches {
            side: Word::value(shape.side.as_deref()?)?,
            at: match shape.code() {
                Some("outlet") => ConduitEnd::Outlet(shape.other()?),
                Some("rack") => ConduitEnd::Rack(shape.other()?),
                Some("room") => ConduitEnd::Room(shape.other()?),
                Some(_) => return None,
                None => ConduitEnd::Words(shape.words()?),
            },
        },
        "ConduitSized" => ConduitFact::Sized(shape.words()?),
        "ConduitString" => ConduitFact::PullString(shape.word()?),
        "ConduitNoted" => ConduitFact::Noted(shape.words()?),
        "ConduitWanted" => ConduitFact::Stands(Standing::Wanted),
        "ConduitCancelled" => ConduitFact::Stands(Standing::Cancelled {
            reason: shape.reason(),
        }),
        "ConduitTagged" => ConduitFact::Tagged(shape.mark()?),
        _ => return None,
    })
}

fn point(Object(point): &Object<PointV1<'_>>) -> Option<Point> {
    let of: ThingId = point.of.parse().ok()?;
    Some(Point {
        what: match &*point.kind {
            "cable" => Seen::Cable(of.into()),
            "outlet" => Seen::Outlet(of.into()),
            _ => return None,
        },
        at: Spotted::new(point.x, point.y)?,
        offset: point.offset.to_string(),
    })
}

fn cover_ok(shape: &FactV1<'_>) -> Option<CoverOk> {
    let checks = shape.text.as_deref()?.split(' ');
    let checks = checks.filter(|word| !word.is_empty()).map(Word::value);
    Some(CoverOk {
        counted: shape.number()?,
        checks: checks.collect::<Option<_>>()?,
        note: shape.reason(),
        known: shape.known()?,
    })
}

fn found(shape: &FactV1<'_>) -> Option<Found> {
    Some(Found {
        place: shape.words()?,
        room: known(shape.to.as_ref(), |_| shape.other())?,
        medium: known(shape.code(), Medium::from_key)?,
        note: shape.reason(),
    })
}

fn single_letter(text: &str) -> Option<Letter> {
    let mut characters = text.chars();
    let letter = Letter::new(characters.next()?)?;
    characters.next().is_none().then_some(letter)
}

fn place(Object(place): &Object<PlaceV1<'_>>) -> Option<Place> {
    let of: ThingId = place.of.parse().ok()?;
    let position = || {
        let number = PositionNumber::new(whole_number(&place.no)?)?;
        Some(Position {
            panel: of.into(),
            number,
        })
    };
    Some(match &*place.kind {
        "jack" => Place::Jack {
            outlet: of.into(),
            jack: single_letter(&place.no)?,
        },
        "rear" => Place::Position {
            position: position()?,
            face: Face::Rear,
        },
        "front" => Place::Position {
            position: position()?,
            face: Face::Front,
        },
        "device" => Place::Device {
            device: of.into(),
            port: place.no.to_string(),
        },
        "joint" => Place::Joint {
            joint: of.into(),
            way: whole_number(&place.no)?,
        },
        _ => return None,
    })
}

fn spot(Object(spot): &Object<SpotV1<'_>>) -> Spot {
    Spot {
        wall: spot.wall.to_string(),
        height: spot.height.map(Millimetres),
        offset: spot.offset.map(Millimetres),
        offset_from: spot.from.to_string(),
    }
}

fn planned(Object(cable): &Object<PlannedV1<'_>>) -> Option<PlannedCable> {
    Some(PlannedCable {
        letter: known(cable.letter.as_deref(), single_letter)?,
        medium: Medium::from_key(&cable.medium)?,
        purpose: cable.purpose.to_string(),
    })
}
