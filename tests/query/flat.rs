//! One row of a flat table from one fact, as somebody would keep the same job in a database.
//!
//! Nothing here asks the registry. Ids become whole numbers in the order in which they are met.

use std::collections::HashMap;

use bothends::domain::ids::ThingId;
use bothends::domain::length::LengthUnit;
use bothends::domain::mount::Mount;
use bothends::domain::place::{
    End, Face, Fitting, Leaves, Place, Placement, Position, RunName, Side,
};
use bothends::domain::work::{
    Availability, MarkKind, PullOutcome, Standing, TestMethod, TestOutcome,
};
use bothends::journal::{
    BlockFact, CableFact, ConduitFact, DeviceFact, EndFact, EndOfPull, Fact, FloorFact, JobFact,
    JointFact, LooseEndFact, OutletFact, OutletTypeFact, PanelFact, PictureFact, PullFact, PullRef,
    RackFact, RoomFact, UnitFact,
};
use rusqlite::types::Value;

/// Whole numbers in the place of ids.
#[derive(Default)]
pub(super) struct Ids(HashMap<ThingId, i64>);

impl Ids {
    /// The number of a thing.
    pub(super) fn of(&mut self, thing: impl Into<ThingId>) -> i64 {
        let next = i64::try_from(self.0.len()).expect("few things") + 1;
        *self.0.entry(thing.into()).or_insert(next)
    }

    /// An end as text: cable, side, leg (0: the whole end).
    pub(super) fn end(&mut self, end: End) -> String {
        let leg = end.leg.map_or(0, |leg| leg.get());
        format!("{}.{}.{leg}", self.of(end.cable), side(end.side))
    }

    /// A position as text.
    pub(super) fn position(&mut self, position: Position) -> String {
        format!("{}-{}", self.of(position.panel), position.number.get())
    }

    /// A place as text.
    pub(super) fn place(&mut self, place: &Place) -> String {
        match place {
            Place::Jack { outlet, jack } => format!("jack {} {jack}", self.of(*outlet)),
            Place::Position { position, face } => {
                let face = match face {
                    Face::Rear => "rear",
                    Face::Front => "front",
                };
                format!("{} {face}", self.position(*position))
            }
            Place::Device { device, port } => format!("device {} {port}", self.of(*device)),
            Place::Joint { joint, way } => format!("joint {} {way}", self.of(*joint)),
        }
    }
}

/// Near is 0, far is 1.
pub(super) fn side(side: Side) -> i64 {
    match side {
        Side::Near => 0,
        Side::Far => 1,
    }
}

/// One row.
pub(super) struct Row {
    /// The table.
    pub(super) table: &'static str,
    /// The columns, the rank of the fact apart, which stands last.
    pub(super) columns: Vec<Value>,
}

/// What a fact sets, when it sets something that has one answer.
pub(super) struct Setting {
    /// The kind of thing.
    pub(super) kind: &'static str,
    /// The thing whose existence matters, 0 for the job.
    pub(super) owner: i64,
    /// The thing as findings write it.
    pub(super) thing: String,
    /// The pull, when it is about one.
    pub(super) pull: Option<i64>,
    /// What of it.
    pub(super) field: &'static str,
}

impl Setting {
    /// A key that is the same for two facts exactly when the later one replaces the earlier.
    pub(super) fn key(&self) -> String {
        format!(
            "{}/{}/{:?}/{}",
            self.kind, self.thing, self.pull, self.field
        )
    }
}

/// A fact as a database sees it.
#[derive(Default)]
pub(super) struct Flat {
    pub(super) rows: Vec<Row>,
    pub(super) setting: Option<Setting>,
}

impl Flat {
    fn row(mut self, table: &'static str, columns: Vec<Value>) -> Self {
        self.rows.push(Row { table, columns });
        self
    }

    fn sets(kind: &'static str, owner: i64, field: &'static str) -> Self {
        Self {
            rows: Vec::new(),
            setting: Some(Setting {
                kind,
                owner,
                thing: format!("{kind} {owner}"),
                pull: None,
                field,
            }),
        }
    }

    fn of_end(mut self, end: String) -> Self {
        if let Some(setting) = &mut self.setting {
            setting.thing = format!("end {end}");
        }
        self
    }

    fn of_pull(mut self, pull: i64) -> Self {
        if let Some(setting) = &mut self.setting {
            setting.pull = Some(pull);
        }
        self
    }
}

fn text(value: impl ToString) -> Value {
    Value::Text(value.to_string())
}

fn int(value: impl Into<i64>) -> Value {
    Value::Integer(value.into())
}

fn added(kind: &'static str, id: i64) -> Flat {
    Flat::default().row("added", vec![text(kind), int(id)])
}

/// The rows of a fact, and what it sets.
pub(super) fn flat(ids: &mut Ids, fact: &Fact) -> Flat {
    match fact {
        Fact::Job(fact) => Flat::sets(
            "job",
            0,
            match fact {
                JobFact::Named(_) => "Name",
                JobFact::PinoutChosen(_) => "Pinout",
                JobFact::TagAddressSet(_) => "TagAddress",
                JobFact::TagsPrinted(_) | JobFact::BoxTagged { .. } => return Flat::default(),
                JobFact::BoxHolds { number, .. } => {
                    let mut flat = Flat::sets("job", 0, "Medium");
                    if let Some(setting) = &mut flat.setting {
                        setting.thing = format!("box {number}");
                    }
                    return flat;
                }
            },
        ),
        Fact::Unit(id, fact) => match fact {
            UnitFact::Added => added("unit", ids.of(*id)),
            UnitFact::Named(_) => Flat::sets("unit", ids.of(*id), "Name"),
        },
        Fact::Floor(id, fact) => match fact {
            FloorFact::Added => added("floor", ids.of(*id)),
            FloorFact::Named(_) => Flat::sets("floor", ids.of(*id), "Name"),
            FloorFact::Numbered(_) => Flat::sets("floor", ids.of(*id), "Number"),
            FloorFact::OnSheet(_) => Flat::sets("floor", ids.of(*id), "Sheet"),
        },
        Fact::Room(id, fact) => room(ids.of(*id), fact),
        Fact::OutletType(id, fact) => match fact {
            OutletTypeFact::Added => added("type", ids.of(*id)),
            OutletTypeFact::Named(_) => Flat::sets("type", ids.of(*id), "Name"),
            OutletTypeFact::Holds(_) => Flat::sets("type", ids.of(*id), "Cables"),
        },
        Fact::Outlet(id, fact) => outlet(ids, ids_of(*id), fact),
        Fact::Cable(id, fact) => cable(ids, ids_of(*id), fact),
        Fact::Pull(pull, fact) => pulled(ids, *pull, fact),
        Fact::End(end, fact) => end_fact(ids, *end, fact),
        Fact::JacketAdded(id) => added("jacket", ids.of(*id)),
        Fact::Rack(id, fact) => rack(ids.of(*id), fact),
        Fact::Panel(id, fact) => {
            let id = ids.of(*id);
            panel(ids, id, fact)
        }
        Fact::PositionKept(position, kept) => {
            let panel = ids.of(position.panel);
            let state = match kept {
                Availability::Open => "open",
                Availability::Reserved { .. } => "reserved",
                Availability::Bad { .. } => "bad",
            };
            let mut flat = Flat::sets("panel", panel, "Kept").row(
                "kept",
                vec![int(panel), int(position.number.get()), text(state)],
            );
            if let Some(setting) = &mut flat.setting {
                setting.thing = format!("position {}", ids.position(*position));
            }
            flat
        }
        Fact::PositionPatched(position, to) => {
            let panel = ids.of(position.panel);
            let own = text(ids.place(&Place::front(*position)));
            let to = to.as_ref().map_or(Value::Null, |to| text(ids.place(to)));
            let name = text(ids.position(*position));
            let mut flat = Flat::sets("panel", panel, "Patched")
                .row("patched", vec![int(panel), name, own, to]);
            if let Some(setting) = &mut flat.setting {
                setting.thing = format!("position {}", ids.position(*position));
            }
            flat
        }
        Fact::Device(id, fact) => match fact {
            DeviceFact::Model(_) => Flat::sets("device", ids.of(*id), "Model"),
            DeviceFact::Serial(_) => Flat::sets("device", ids.of(*id), "Serial"),
            DeviceFact::Added => added("device", ids.of(*id)),
            DeviceFact::Named(_) => Flat::sets("device", ids.of(*id), "Name"),
            DeviceFact::InRoom(_) => Flat::sets("device", ids.of(*id), "Room"),
            DeviceFact::Mounted(mount) => {
                let id = ids.of(*id);
                let row = mounted(ids, id, mount.as_ref());
                Flat::sets("device", id, "Mount").row("device_mount", row)
            }
        },
        Fact::Joint(id, fact) => {
            let id = ids.of(*id);
            match fact {
                JointFact::Added(_) => {
                    Flat::sets("joint", id, "Kind").row("added", vec![text("joint"), int(id)])
                }
                JointFact::Named(_) => Flat::sets("joint", id, "Name"),
                JointFact::InRoom(_) => Flat::sets("joint", id, "Room"),
            }
        }
        Fact::LooseEnd(id, fact) => loose_end(ids, ids_of(*id), fact),
        Fact::Picture(id, fact) => picture(ids.of(*id), fact),
        Fact::Conduit(id, fact) => conduit(ids.of(*id), fact),
        Fact::Block(id, fact) => block(ids, ids_of(*id), fact),
        Fact::Unknown { .. } => Flat::default(),
    }
}

fn ids_of(id: impl Into<ThingId>) -> ThingId {
    id.into()
}

fn room(id: i64, fact: &RoomFact) -> Flat {
    let sets = |field| Flat::sets("room", id, field);
    match fact {
        RoomFact::Added => added("room", id),
        RoomFact::Named(_) => sets("Name"),
        RoomFact::Coded(code) => sets("Code").row("room_code", vec![int(id), text(code)]),
        RoomFact::OnFloor(_) => sets("Floor"),
        RoomFact::InUnit(_) => sets("Unit"),
        RoomFact::Covering(_) => sets("Cover"),
        RoomFact::Ordered(order) => sets("Order").row("room_order", vec![int(id), int(*order)]),
    }
}

fn cancelled(standing: &Standing) -> Value {
    int(i64::from(matches!(standing, Standing::Cancelled { .. })))
}

fn outlet(ids: &mut Ids, id: ThingId, fact: &OutletFact) -> Flat {
    let id = ids.of(id);
    let sets = |field| Flat::sets("outlet", id, field);
    match fact {
        OutletFact::Added => added("outlet", id),
        OutletFact::Numbered { room, number } => sets("Number").row(
            "outlet_number",
            vec![int(id), int(ids.of(*room)), int(number.get())],
        ),
        OutletFact::Typed(_) => sets("Kind"),
        OutletFact::Purposed(_) => sets("Purpose"),
        OutletFact::Placed(_) => sets("Spot"),
        OutletFact::Boxed(_) => sets("WallBox"),
        OutletFact::Stands(standing) => {
            sets("Standing").row("outlet_standing", vec![int(id), cancelled(standing)])
        }
        OutletFact::Noted(_) => Flat::default(),
        OutletFact::Tagged(_) => Flat::default().row("outlet_tag", vec![int(id)]),
        OutletFact::Slack(_) => sets("Slack"),
        OutletFact::Waits(_) => sets("Waits"),
        OutletFact::ChangeOrdered(order) => {
            sets("ChangeOrder").row("outlet_order", vec![int(id), text(order)])
        }
    }
}

fn cable(ids: &mut Ids, id: ThingId, fact: &CableFact) -> Flat {
    let id = ids.of(id);
    let sets = |field| Flat::sets("cable", id, field);
    match fact {
        CableFact::Added => added("cable", id),
        CableFact::Named(RunName::Feeds { outlet, letter }) => {
            let columns = vec![int(id), int(ids.of(*outlet)), text(letter)];
            let rest = [Value::Null, Value::Null, Value::Null];
            sets("Name").row("cable_name", columns.into_iter().chain(rest).collect())
        }
        CableFact::Named(RunName::Ties { near, far, number }) => {
            let ties = [int(ids.of(*near)), int(ids.of(*far)), int(*number)];
            let columns = vec![int(id), Value::Null, Value::Null];
            sets("Name").row("cable_name", columns.into_iter().chain(ties).collect())
        }
        CableFact::Leaves(leaves) => {
            let (rack, outlet) = match leaves {
                Leaves::Rack(None) => (Value::Null, Value::Null),
                Leaves::Rack(Some(rack)) => (int(ids.of(*rack)), Value::Null),
                Leaves::Outlet(outlet) => (Value::Null, int(ids.of(*outlet))),
            };
            sets("Leaves").row("cable_leaves", vec![int(id), rack, outlet])
        }
        CableFact::MadeOf(medium) => {
            sets("Medium").row("cable_medium", vec![int(id), text(medium.key())])
        }
        CableFact::Purposed(_) => sets("Purpose"),
        CableFact::InJacket(jacket) => {
            sets("Jacket").row("cable_jacket", vec![int(id), int(ids.of(*jacket))])
        }
        CableFact::Stands(standing) => {
            sets("Standing").row("cable_standing", vec![int(id), cancelled(standing)])
        }
        CableFact::Cancelled { known, .. } => {
            let flat = sets("Standing").row("cable_standing", vec![int(id), int(1)]);
            let flat = flat.row("foreseen", vec![int(id), Value::Null]);
            known.iter().fold(flat, |flat, act| {
                flat.row("foreseen", vec![int(id), text(act.to_string())])
            })
        }
        CableFact::ChangeOrdered(order) => {
            sets("ChangeOrder").row("cable_order", vec![int(id), text(order)])
        }
        CableFact::TagKept { tag, called } => {
            Flat::default().row("kept_tag", vec![int(id), text(tag), text(called)])
        }
        CableFact::KnownAs(_) | CableFact::Noted(_) => Flat::default(),
        CableFact::PassesThrough { conduit, .. } => {
            let mut flat = sets("Lying");
            if let Some(setting) = &mut flat.setting {
                setting.thing = format!("passage {id} {}", ids.of(*conduit));
            }
            flat
        }
        CableFact::Repulled { pull, known, .. } => {
            let flat = sets("Repull").row("cable_repull", vec![int(id), int(ids.of(*pull))]);
            let Some(known) = known else { return flat };
            let flat = flat.row("passed", vec![int(id), Value::Null]);
            known.iter().fold(flat, |flat, act| {
                flat.row("passed", vec![int(id), text(act.to_string())])
            })
        }
    }
}

fn pulled(ids: &mut Ids, of: PullRef, fact: &PullFact) -> Flat {
    let (cable, pull) = (ids.of(of.cable), ids.of(of.pull));
    let sets = |field| Flat::sets("cable", cable, field).of_pull(pull);
    match fact {
        PullFact::Reported(outcome) => {
            let word = match outcome {
                PullOutcome::Pulled => "pulled",
                PullOutcome::Short => "short",
                PullOutcome::Stuck => "stuck",
                PullOutcome::Damaged => "damaged",
            };
            sets("Outcome").row("outcome", vec![int(cable), int(pull), text(word)])
        }
        PullFact::DrawnFrom(_) => sets("DrawnFrom").row("touched", vec![int(cable)]),
        PullFact::Tested(test) => {
            let is_passed = test.outcome == TestOutcome::Passed;
            let is_certified = is_passed && test.method == TestMethod::Certification;
            let outcome = [is_passed, is_certified].map(|is| int(i64::from(is)));
            Flat::default().row(
                "test",
                [vec![int(cable), int(pull)], outcome.into()].concat(),
            )
        }
    }
}

fn end_fact(ids: &mut Ids, of: EndOfPull, fact: &EndFact) -> Flat {
    let EndOfPull { end, pull } = of;
    let name = ids.end(end);
    let (cable, pull, side) = (ids.of(end.cable), ids.of(pull), int(side(end.side)));
    let leg = int(end.leg.map_or(0, |leg| leg.get()));
    let sets = |field| {
        Flat::sets("cable", cable, field)
            .of_end(name.clone())
            .of_pull(pull)
    };
    let at = [int(cable), int(pull), side.clone()];
    let with = |more: Vec<Value>| at.iter().cloned().chain(more).collect::<Vec<_>>();
    match fact {
        EndFact::Planned(place) => {
            let [place, panel, number, _] = place_columns(ids, place.as_ref());
            let flat = Flat::sets("cable", cable, "Planned").of_end(name);
            flat.row("planned", vec![int(cable), side, leg, place, panel, number])
        }
        EndFact::Placed(placement) => {
            let columns = placement_columns(ids, placement);
            let columns = std::iter::once(leg).chain(columns).collect();
            sets("placement").row("placement", with(columns))
        }
        EndFact::Split(legs) => {
            let whole = End::whole(end.cable, end.side);
            let name = ids.end(whole);
            let flat = Flat::sets("cable", cable, "Split");
            flat.of_end(name)
                .of_pull(pull)
                .row("split", with(vec![int(legs.get())]))
        }
        EndFact::Marked(mark) => {
            let is_on = mark.kind != MarkKind::Printed;
            Flat::default().row("mark", with(vec![text(&mark.text), int(is_on)]))
        }
        EndFact::TagLost => Flat::default().row("lost", with(Vec::new())),
        EndFact::Footage(mark) => {
            let unit = match mark.unit {
                LengthUnit::Feet => "ft",
                LengthUnit::Metres => "m",
            };
            Flat::default().row("footage", with(vec![int(mark.value), text(unit)]))
        }
        EndFact::Seen { .. } => Flat::default().row("touched", vec![int(cable)]),
    }
}

/// Place, panel, position number and outlet of a jack.
fn place_columns(ids: &mut Ids, place: Option<&Place>) -> [Value; 4] {
    let mut columns = [Value::Null, Value::Null, Value::Null, Value::Null];
    if let Some(place) = place {
        columns[0] = text(ids.place(place));
    }
    match place {
        Some(Place::Position { position, .. }) => {
            columns[1] = int(ids.of(position.panel));
            columns[2] = int(position.number.get());
        }
        Some(Place::Jack { outlet, .. }) => columns[3] = int(ids.of(*outlet)),
        Some(Place::Device { .. } | Place::Joint { .. }) | None => {}
    }
    columns
}

/// Status, place, panel, number, jack's outlet, way of fitting, and whether a reason is given.
fn placement_columns(ids: &mut Ids, placement: &Placement) -> Vec<Value> {
    let (status, place, direct, reason) = match placement {
        Placement::Landed { place, fitting } => {
            let direct = i64::from(*fitting == Fitting::Direct);
            ("landed", Some(place), direct, "")
        }
        Placement::Lifted => ("lifted", None, 0, ""),
        Placement::Spare { reason, .. } => ("spare", None, 0, reason.as_str()),
        Placement::Dead { reason } => ("dead", None, 0, reason.as_str()),
    };
    let mut columns = vec![text(status)];
    columns.extend(place_columns(ids, place));
    columns.extend([int(direct), text(reason), text(format!("{placement:?}"))]);
    columns
}

fn rack(id: i64, fact: &RackFact) -> Flat {
    let sets = |field| Flat::sets("rack", id, field);
    match fact {
        RackFact::Added => added("rack", id),
        RackFact::InSpace(space) => sets("Space").row("rack_space", vec![int(id), text(space)]),
        RackFact::Named(_) => sets("Name"),
        RackFact::InRoom(_) => sets("Room"),
        RackFact::Tagged(_) => Flat::default(),
        RackFact::Built(build) => {
            let units = build.units().map_or(Value::Null, |units| int(units.get()));
            sets("Build").row("rack_build", vec![int(id), units])
        }
    }
}

fn panel(ids: &mut Ids, id: i64, fact: &PanelFact) -> Flat {
    let sets = |field| Flat::sets("panel", id, field);
    match fact {
        PanelFact::Added(make) => sets("Make").row("added", vec![text("panel"), int(id)]).row(
            "panel_make",
            vec![
                int(id),
                text(make.connector.key()),
                int(make.positions.get()),
            ],
        ),
        PanelFact::InRack(rack) => {
            sets("Rack").row("panel_rack", vec![int(id), int(ids.of(*rack))])
        }
        PanelFact::Lettered(letters) => {
            sets("Letters").row("panel_letters", vec![int(id), text(letters)])
        }
        PanelFact::AtUnit(unit) => {
            let unit = unit.map_or(Value::Null, int);
            sets("RackUnit").row("panel_unit", vec![int(id), unit])
        }
        PanelFact::High(height) => {
            sets("Height").row("panel_high", vec![int(id), int(height.get())])
        }
        PanelFact::Purposed(_) => sets("Purpose"),
        PanelFact::Tagged(_) | PanelFact::StripPrinted(_) => Flat::default(),
    }
}

/// Where something hangs: nothing but its id when it hangs in no rack.
fn mounted(ids: &mut Ids, id: i64, mount: Option<&Mount>) -> Vec<Value> {
    let Some(mount) = mount else {
        return vec![int(id), Value::Null, Value::Null, Value::Null, Value::Null];
    };
    let face = match mount.face {
        Face::Front => "Front",
        Face::Rear => "Rear",
    };
    vec![
        int(id),
        int(ids.of(mount.rack)),
        mount.unit.map_or(Value::Null, int),
        int(mount.height.get()),
        text(face),
    ]
}

fn block(ids: &mut Ids, id: ThingId, fact: &BlockFact) -> Flat {
    let id = ids.of(id);
    let sets = |field| Flat::sets("block", id, field);
    match fact {
        BlockFact::Added(_) => sets("Kind").row("added", vec![text("block"), int(id)]),
        BlockFact::Named(_) => sets("Name"),
        BlockFact::Mounted(mount) => {
            sets("Mount").row("block_mount", mounted(ids, id, Some(mount)))
        }
        BlockFact::Stands(standing) => {
            sets("Standing").row("block_standing", vec![int(id), cancelled(standing)])
        }
    }
}

fn picture(id: i64, fact: &PictureFact) -> Flat {
    let sets = |field| Flat::sets("picture", id, field);
    match fact {
        PictureFact::Added(_) => added("picture", id),
        PictureFact::Shows(_) => sets("Shows"),
        PictureFact::Noted(_) => sets("Note"),
        PictureFact::Points(_) => sets("Points"),
        PictureFact::Stands(_) => sets("Standing"),
    }
}

fn conduit(id: i64, fact: &ConduitFact) -> Flat {
    let sets = |field| Flat::sets("conduit", id, field);
    match fact {
        ConduitFact::Added { number } => sets("Number")
            .row("added", vec![text("conduit"), int(id)])
            .row("conduit_number", vec![int(id), int(i64::from(*number))]),
        ConduitFact::Reaches { side, .. } => sets(match side {
            Side::Near => "From",
            Side::Far => "To",
        }),
        ConduitFact::Sized(_) => sets("Size"),
        ConduitFact::PullString(_) => sets("PullString"),
        ConduitFact::Noted(_) => sets("Note"),
        ConduitFact::Stands(standing) => {
            sets("Standing").row("conduit_standing", vec![int(id), cancelled(standing)])
        }
        ConduitFact::Tagged(_) => Flat::default(),
    }
}

fn loose_end(ids: &mut Ids, id: ThingId, fact: &LooseEndFact) -> Flat {
    let id = ids.of(id);
    let sets = |field| Flat::sets("loose", id, field);
    match fact {
        LooseEndFact::Added { number } => sets("Number")
            .row("added", vec![text("loose"), int(id)])
            .row("loose_number", vec![int(id), int(i64::from(*number))]),
        LooseEndFact::Found(_) => sets("Found"),
        LooseEndFact::Joined(end) => {
            let columns = vec![int(id), int(ids.of(end.cable)), text(ids.end(*end))];
            sets("Joined").row("loose_joined", columns)
        }
        LooseEndFact::Parted => {
            sets("Joined").row("loose_joined", vec![int(id), Value::Null, Value::Null])
        }
    }
}
