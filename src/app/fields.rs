//! What stands in the fields of the screens. It is kept here, apart from the page, so that a
//! refused or interrupted input is still there afterwards. What typing changes beside its field is
//! said here too.

use crate::domain::sorted::SortedMap;

use super::scan::open_loose;
use super::turn::go;
use super::{Effect, Model, Screen, bench, racks, tags, wall};
use crate::domain::ids::{LooseEndId, PanelId, ThingId};
use crate::domain::label::PositionNumber;
use crate::domain::place::Position;

/// One field of one form.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[expect(
    missing_docs,
    reason = "the names are those of the fields on the screens"
)]
pub enum Field {
    JobName,
    Initials,
    DeviceName,
    UnitName,
    FloorName,
    FloorNumber,
    FloorSheet,
    RoomName,
    RoomCode,
    RoomFloor,
    RoomUnit,
    EditName,
    EditCode,
    EditFloor,
    EditUnit,
    EditRack,
    EditRackUnit,
    EditConnector,
    EditSize,
    EditModel,
    EditSerial,
    PatchDevice,
    PatchPort,
    OutletKind,
    OutletPurpose,
    OutletRack,
    OutletWall,
    OutletHeight,
    OutletOffset,
    OutletOffsetFrom,
    OutletBox,
    OutletNumber,
    OutletRoom,
    CableMedium,
    CableOwnMedium,
    CablePurpose,
    CableOldName,
    CableFrom,
    TypeName,
    TypeCables,
    TypeLetter,
    TypeChanged,
    RackName,
    RackSpace,
    RackRoom,
    PanelConnector,
    PanelSize,
    PanelLetters,
    PanelUnit,
    PanelRack,
    TieNear,
    TieFar,
    DeviceLabel,
    DeviceRoom,
    JointName,
    JointRoom,
    JointKind,
    ConduitNumber,
    ConduitFrom,
    ConduitTo,
    ConduitSize,
    ConduitNote,
    CableConduit,
    LooseRoom,
    LoosePlace,
    LooseMedium,
    LooseNote,
    Reason,
    Note,
    Footage,
    Find,
    ScanText,
    ScanStand,
    Hand,
    RangeFrom,
    RangeTo,
    Gate,
    Mapping,
    Port,
    HistoryText,
    HistoryBy,
    LooseCode,
    LooseOther,
    LooseOpen,
    LooseHow,
    LooseEdited,
    OpenRow,
    OpenPart,
    OpenRack,
    LandCode,
    LandPosition,
    Legs,
    HandTail,
    CoverChecks,
    CoverCount,
    CoverNote,
    SlackLength,
    SlackPlace,
    Question,
    ChangeOrder,
    BoxNumber,
    Evening,
    EveningWritten,
    SplitOff,
    NewTags,
    PicturesFrom,
    Settled,
    PointAt,
    PointWhat,
    PointOffset,
    Kept,
    TagsOf,
    TagsStock,
    TagsStockPlaces,
    TagsStockInserts,
    TagsStockStrips,
    TagsSet,
    TagsDots,
    TagsStart,
    TagsPosition,
    TagsDiameter,
    TagsPitch,
    StockName,
    StockShape,
    StockFeed,
    StockWidth,
    StockHeight,
    StockOwn,
    StockColumns,
    StockRows,
    StockLeft,
    StockTop,
    StockAcross,
    StockDown,
    BenchWhat,
    BenchName,
    BenchUnit,
    BenchHeight,
    BenchBuild,
    BenchUnits,
    BenchSize,
    BenchPage,
    FirmName,
    FirmPhone,
}

/// The texts in all fields, by the place of the field in the list.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Fields(SortedMap<u8, String>);

/// Between the parts of texts that are kept across a reload: ASCII's record separator, which nobody
/// types.
const BETWEEN: char = '\u{1e}';

/// The number of fields: another build with another list does not take the texts of this one.
const LIST: u8 = Field::FirmPhone as u8;

impl Fields {
    /// What stands in a field; empty when nothing does.
    #[must_use]
    pub fn get(&self, field: Field) -> &str {
        self.0.get(&(field as u8)).map_or("", String::as_str)
    }

    /// Puts a text into a field.
    pub fn set(&mut self, field: Field, text: impl Into<String>) {
        self.0.insert(field as u8, text.into());
    }

    /// Empties fields once what stood there was taken.
    pub fn clear(&mut self, fields: &[Field]) {
        for field in fields {
            self.0.remove(&(*field as u8));
        }
    }

    /// Takes the texts out of these fields.
    pub(super) fn take(&mut self, fields: &[Field]) -> Self {
        let mut taken = Self::default();
        for field in fields {
            if let Some(text) = self.0.remove(&(*field as u8)) {
                taken.set(*field, text);
            }
        }
        taken
    }

    /// Takes out what is of a job. Who works with the device, what its list of jobs asks for, and the labels in its
    /// printer are the same in every job.
    pub(super) fn take_of_job(&mut self) -> Self {
        let mut own = self.take(&[Field::JobName, Field::Initials, Field::DeviceName]);
        for fields in tags::OF_PRINTER {
            own.put(self.take(fields));
        }
        std::mem::replace(self, own)
    }

    /// Puts texts back that were taken out.
    pub(super) fn put(&mut self, texts: Self) {
        for (field, text) in texts.0.iter() {
            self.0.insert(*field, text.clone());
        }
    }

    /// What stands in the fields of a screen, to be kept until the page is loaded again.
    #[must_use]
    pub(super) fn kept(&self, address: &str) -> String {
        let start = format!("{address}{BETWEEN}{LIST}");
        let texts = self.0.iter().filter(|(_, text)| !text.is_empty());
        texts.fold(start, |kept, (field, text)| {
            format!("{kept}{BETWEEN}{field}{BETWEEN}{text}")
        })
    }

    /// Puts back what stood in the fields of a screen; nothing when it is another screen.
    pub(super) fn put_back(&mut self, kept: &str, address: &str) {
        let mut parts = kept.split(BETWEEN);
        if parts.next() != Some(address) || parts.next() != Some(LIST.to_string().as_str()) {
            return;
        }
        while let (Some(field), Some(text)) = (parts.next(), parts.next()) {
            if let Ok(field) = field.parse() {
                self.0.insert(field, text.to_owned());
            }
        }
    }

    /// How a position stands in a field, with its panel, so that what was chosen on one panel is
    /// never taken for a choice on another.
    #[must_use]
    pub fn position_text(position: Position) -> String {
        format!("{}/{}", position.panel.0, position.number.get())
    }

    /// The position of this panel that stands in a field; none when none of this panel does.
    #[must_use]
    pub fn position(&self, field: Field, panel: PanelId) -> Option<PositionNumber> {
        let (of, number) = self.get(field).split_once('/')?;
        let of: ThingId = of.parse().ok()?;
        let number = PositionNumber::new(number.parse().ok()?)?;
        (PanelId(of) == panel).then_some(number)
    }
}

/// Takes what was typed or chosen.
pub(super) fn typed(model: &mut Model, field: Field, text: String) -> Vec<Effect> {
    if matches!(
        field,
        Field::Find | Field::Hand | Field::Gate | Field::HistoryText | Field::HistoryBy
    ) {
        model.page = 0;
    }
    if field == Field::OpenRack {
        racks::turned(model, &text);
    }
    if matches!(field, Field::RoomName | Field::RoomUnit) {
        wall::room_is_described(model, field, &text);
    }
    if field == Field::LooseOpen
        && model.screen() != Some(Screen::Loose)
        && let Ok(id) = text.parse::<ThingId>()
    {
        // One of the loose ends was found: the list is turned to with that one open.
        let effects = go(model, Screen::Loose);
        open_loose(model, LooseEndId(id));
        return effects;
    }
    model.fields.set(field, text);
    if field == Field::BenchWhat {
        bench::fill(model);
    }
    if field != Field::Hand {
        return Vec::new();
    }
    // The first keys stand on the screen of the racks too; the others do not.
    let mut effects = match model.screen() {
        Some(Screen::Rack) => go(model, Screen::Hand),
        _ => Vec::new(),
    };
    // The key that was pressed is gone: the next ones are where it was.
    effects.push(Effect::FocusField(Field::Hand));
    effects
}
