//! Codes of every kind for the tests that try many.

use bothends::codes::leg::LegCode;
use bothends::codes::tag::{JobKey, PullMark, TagText, Tagged};
use bothends::domain::ids::{Bits80, JobId, PullId, ThingId};
use bothends::domain::label::{
    LabelCode, LegNumber, Letter, LinkCode, OutletCode, OutletNumber, PanelLetters, PositionCode,
    PositionNumber, RoomCode, SpaceCode,
};
use proptest::prelude::*;

pub(crate) fn room() -> impl Strategy<Value = RoomCode> {
    "[A-Z]{2,5}".prop_map(|text| RoomCode::new(&text).expect("two to five capitals"))
}

pub(crate) fn outlet() -> impl Strategy<Value = OutletCode> {
    (room(), 1_u8..=99).prop_map(|(room, number)| OutletCode {
        room,
        number: OutletNumber::new(number).expect("1 to 99"),
    })
}

pub(crate) fn space() -> impl Strategy<Value = SpaceCode> {
    (0_u8..=99, "[A-Z]{1,2}")
        .prop_map(|(floor, letters)| SpaceCode::new(floor, &letters).expect("floor and letters"))
}

pub(crate) fn panel() -> impl Strategy<Value = PanelLetters> {
    "[A-Z]{1,2}".prop_map(|text| PanelLetters::new(&text).expect("one or two capitals"))
}

pub(crate) fn position() -> impl Strategy<Value = PositionCode> {
    (panel(), 1_u16..=9999).prop_map(|(panel, number)| PositionCode {
        panel,
        number: PositionNumber::new(number).expect("1 to 9999"),
    })
}

pub(crate) fn link() -> impl Strategy<Value = LinkCode> {
    (space(), position()).prop_map(|(space, position)| LinkCode { space, position })
}

pub(crate) fn run() -> impl Strategy<Value = LabelCode> {
    (outlet(), 0_usize..21).prop_map(|(outlet, place)| LabelCode::Run {
        outlet,
        letter: Letter::at(place).expect("21 letters"),
    })
}

pub(crate) fn label() -> impl Strategy<Value = LabelCode> {
    let tie = (space(), space(), 1_u16..).prop_map(|(near, far, number)| LabelCode::Tie {
        near,
        far,
        number,
    });
    prop_oneof![3 => run(), 1 => tie]
}

pub(crate) fn leg() -> impl Strategy<Value = LegCode> {
    (label(), 1_u8..=16).prop_map(|(label, number)| LegCode {
        label,
        leg: LegNumber::new(number).expect("1 to 16"),
    })
}

pub(crate) fn pull() -> impl Strategy<Value = PullId> {
    (any::<[u8; 10]>(), any::<u32>(), any::<u32>()).prop_map(|(origin, n, index)| {
        PullId(ThingId {
            origin: Bits80(origin),
            n,
            index,
        })
    })
}

pub(crate) fn tag() -> impl Strategy<Value = TagText> {
    let pull = || pull().prop_map(PullMark::of);
    let tagged = prop_oneof![
        4 => (label(), pull()).prop_map(|(code, pull)| Tagged::Run { code, pull }),
        2 => (leg(), pull()).prop_map(|(code, pull)| Tagged::Leg { code, pull }),
        1 => outlet().prop_map(Tagged::Outlet),
        1 => panel().prop_map(Tagged::Panel),
        1 => space().prop_map(Tagged::Space),
        1 => (1_u16..).prop_map(Tagged::Conduit),
        1 => (1_u16..).prop_map(Tagged::Box),
    ];
    (tagged, any::<[u8; 10]>()).prop_map(|(tagged, job)| TagText {
        tagged,
        job_key: JobKey::of(JobId(Bits80(job))),
    })
}
