//! Which screen is open, as a value and as the part of the address after `#`.

use crate::domain::ids::{
    Bits80, CableId, DeviceId, JobId, JointId, OutletId, PanelId, PictureId, RackId, RoomId,
    ThingId,
};
use crate::domain::label::PositionNumber;
use crate::domain::place::{Face, Position, Side};

/// A screen of an open job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Screen {
    /// Rooms in walking order.
    Wall,
    /// The outlets of a room.
    Room(RoomId),
    /// One outlet: its plate and cables.
    Outlet(OutletId),
    /// The next text for the pen, filling the screen.
    Pen {
        /// The outlet that is being marked.
        outlet: OutletId,
        /// Which of its cables is next, from 0.
        place: usize,
    },
    /// Length marks of an outlet's cables, one after the other.
    Footage {
        /// Of which cables.
        of: FootageOf,
        /// At which end they are read.
        side: Side,
    },
    /// What is pulled next, from which boxes.
    Pull,
    /// The same to be printed.
    PullSheet,
    /// What was done, as a text to send in the evening.
    Evening,
    /// Which rooms must not be covered yet.
    Covers,
    /// Whether the walls of a room may be closed.
    Cover(RoomId),
    /// Tags, and the file that prints them.
    Tags,
    /// The description of a label stock.
    Stock,
    /// Racks and panels.
    Rack,
    /// One rack as it stands, from the front or from the rear.
    Elevation {
        /// The rack.
        rack: RackId,
        /// From where it is seen.
        face: Face,
    },
    /// One panel, from the front or from the rear.
    Panel {
        /// The panel.
        panel: PanelId,
        /// From where it is seen.
        face: Face,
    },
    /// One position of a panel.
    Position {
        /// The position.
        position: Position,
        /// From where its panel is seen.
        face: Face,
    },
    /// Where the cables that have no position yet might land.
    Proposal,
    /// What feeds what, from a cable to both its sides.
    Feeds(CableId),
    /// The ports of a device, and what feeds them.
    Device(DeviceId),
    /// The ways of a joint, and what passes there.
    Joint(JointId),
    /// A cable in the hand: which one is it?
    Hand,
    /// That cable's position, filling the screen.
    HandCable(CableId),
    /// What a camera sees, and what stands on the tags in it.
    Scan,
    /// Numbered remotes in the jacks, read at the rack.
    Remotes,
    /// Look something up.
    Find,
    /// One cable with both its ends.
    Cable(CableId),
    /// What stands between the job and the next gate.
    Punch,
    /// The job: rooms, types, racks, people, progress.
    Job,
    /// Rooms, floors and units, to plan them.
    Rooms,
    /// Outlet types.
    Types,
    /// Racks, panels, devices, to plan them.
    Racks,
    /// All conduits, where they are more than fit beside the racks.
    Conduits,
    /// Loose ends.
    Loose,
    /// Bring a cable schedule in.
    Import,
    /// From phone to phone without a file.
    Crew,
    /// What a job file would bring in.
    Incoming,
    /// What was done, by whom.
    History,
    /// One picture.
    Picture(PictureId),
}

/// Cables whose length marks are read one after the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FootageOf {
    /// Those that an outlet gets.
    Outlet(OutletId),
    /// The bundle in hand that this cable is in.
    Bundle(CableId),
}

/// A place in the app.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Route {
    /// The list of jobs.
    Jobs,
    /// A tag is scanned before any job is open.
    Scan,
    /// A screen of a job.
    Job {
        /// The job.
        job: JobId,
        /// The screen.
        screen: Screen,
    },
}

/// The sections that the bar at the bottom leads to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Section {
    /// At the wall.
    Wall,
    /// At the rack.
    Rack,
    /// Scan a tag.
    Scan,
    /// Look something up.
    Find,
    /// What is to be done.
    Punch,
    /// The job as a whole.
    Job,
}

/// Something that the first screen asks for through the address, since it is a module of its own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Errand {
    /// Open the demo job.
    Demo,
    /// Open a job file.
    JobFile,
    /// Take the file that was dropped on the page or shared by another app.
    Arrived,
    /// Start a job of this name.
    NewJob(String),
}

impl Errand {
    /// Reads the part of the address after `#`; none when it names a screen.
    #[must_use]
    pub fn parse(hash: &str) -> Option<Self> {
        let path = hash.trim_start_matches('#').trim_start_matches('/');
        match path.split_once('/') {
            None if path == "demo" => Some(Self::Demo),
            None if path == "open" => Some(Self::JobFile),
            None if path == "arrived" => Some(Self::Arrived),
            Some(("new", name)) => Some(Self::NewJob(unescaped(name))),
            None | Some(_) => None,
        }
    }
}

/// Undoes the percent signs of an address (RFC 3986, section 2.1); what is no such escape stays.
fn unescaped(text: &str) -> String {
    let mut bytes = Vec::with_capacity(text.len());
    let mut rest = text.as_bytes();
    while let [first, after @ ..] = rest {
        let byte = match (first, after) {
            (b'%', [high, low, ..]) => std::str::from_utf8(&[*high, *low])
                .ok()
                .filter(|digits| digits.bytes().all(|b| b.is_ascii_hexdigit()))
                .and_then(|digits| u8::from_str_radix(digits, 16).ok()),
            _ => None,
        };
        bytes.push(byte.unwrap_or(*first));
        rest = if byte.is_some() { &after[2..] } else { after };
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

impl Section {
    /// All of them, from left to right.
    pub const ALL: [Self; 6] = [
        Self::Wall,
        Self::Rack,
        Self::Scan,
        Self::Find,
        Self::Punch,
        Self::Job,
    ];

    /// The screen that a tap on the bar opens.
    #[must_use]
    pub fn screen(self) -> Screen {
        match self {
            Self::Wall => Screen::Wall,
            Self::Rack => Screen::Rack,
            Self::Scan => Screen::Scan,
            Self::Find => Screen::Find,
            Self::Punch => Screen::Punch,
            Self::Job => Screen::Job,
        }
    }
}

impl Screen {
    /// The section that the screen belongs to.
    #[must_use]
    pub fn section(self) -> Section {
        match self {
            Self::Wall
            | Self::Room(_)
            | Self::Outlet(_)
            | Self::Pen { .. }
            | Self::Footage { .. }
            | Self::Pull
            | Self::PullSheet
            | Self::Evening
            | Self::Covers
            | Self::Cover(_)
            | Self::Picture(_) => Section::Wall,
            Self::Rack
            | Self::Elevation { .. }
            | Self::Panel { .. }
            | Self::Position { .. }
            | Self::Hand
            | Self::HandCable(_)
            | Self::Proposal
            | Self::Device(_)
            | Self::Joint(_)
            | Self::Remotes => Section::Rack,
            Self::Scan => Section::Scan,
            Self::Find | Self::Cable(_) | Self::Feeds(_) => Section::Find,
            Self::Punch => Section::Punch,
            Self::Job
            | Self::Rooms
            | Self::Types
            | Self::Racks
            | Self::Conduits
            | Self::Loose
            | Self::Import
            | Self::Tags
            | Self::Stock
            | Self::Crew
            | Self::Incoming
            | Self::History => Section::Job,
        }
    }

    fn print(self) -> String {
        let with = |word: &str, id: ThingId| format!("{word}/{id}");
        match self {
            Self::Wall => "wall".to_owned(),
            Self::Room(id) => with("room", id.0),
            Self::Outlet(id) => with("outlet", id.0),
            Self::Pen { outlet, place } => format!("pen/{}/{place}", outlet.0),
            Self::Footage { of, side } => {
                let (word, id) = match of {
                    FootageOf::Outlet(id) => ("footage", id.0),
                    FootageOf::Bundle(id) => ("marks", id.0),
                };
                format!("{word}/{id}/{}", side_word(side))
            }
            Self::Pull => "pull".to_owned(),
            Self::PullSheet => "sheet".to_owned(),
            Self::Evening => "evening".to_owned(),
            Self::Covers => "covers".to_owned(),
            Self::Cover(id) => with("cover", id.0),
            Self::Tags => "tags".to_owned(),
            Self::Stock => "labels".to_owned(),
            Self::Rack => "rack".to_owned(),
            Self::Elevation { rack, face } => format!("elevation/{}/{}", rack.0, face_word(face)),
            Self::Panel { panel, face } => format!("panel/{}/{}", panel.0, face_word(face)),
            Self::Position { position, face } => {
                let Position { panel, number } = position;
                format!("panel/{}/{}/{}", panel.0, face_word(face), number.get())
            }
            Self::Hand => "hand".to_owned(),
            Self::HandCable(id) => with("hand", id.0),
            Self::Scan => "scan".to_owned(),
            Self::Proposal => "proposal".to_owned(),
            Self::Remotes => "remotes".to_owned(),
            Self::Find => "find".to_owned(),
            Self::Cable(id) => with("cable", id.0),
            Self::Feeds(id) => with("feeds", id.0),
            Self::Device(id) => with("device", id.0),
            Self::Joint(id) => with("joint", id.0),
            Self::Punch => "punch".to_owned(),
            Self::Job => "job".to_owned(),
            Self::Rooms => "rooms".to_owned(),
            Self::Types => "types".to_owned(),
            Self::Racks => "racks".to_owned(),
            Self::Conduits => "conduits".to_owned(),
            Self::Loose => "loose".to_owned(),
            Self::Import => "import".to_owned(),
            Self::Crew => "crew".to_owned(),
            Self::Incoming => "incoming".to_owned(),
            Self::History => "history".to_owned(),
            Self::Picture(id) => with("picture", id.0),
        }
    }

    fn parse(text: &str) -> Option<Self> {
        let mut parts = text.split('/');
        let (word, id, more) = (parts.next()?, parts.next(), parts.next());
        let thing = || id?.parse::<ThingId>().ok();
        Some(match (word, id) {
            ("wall", None) => Self::Wall,
            ("room", Some(_)) => Self::Room(thing()?.into()),
            ("outlet", Some(_)) => Self::Outlet(thing()?.into()),
            ("pen", Some(_)) => Self::Pen {
                outlet: thing()?.into(),
                place: more?.parse().ok()?,
            },
            ("footage" | "marks", Some(_)) => {
                let side = Side::BOTH
                    .into_iter()
                    .find(|side| Some(side_word(*side)) == more)?;
                let of = match word {
                    "footage" => FootageOf::Outlet(thing()?.into()),
                    _ => FootageOf::Bundle(thing()?.into()),
                };
                Self::Footage { of, side }
            }
            ("pull", None) => Self::Pull,
            ("sheet", None) => Self::PullSheet,
            ("evening", None) => Self::Evening,
            ("covers", None) => Self::Covers,
            ("cover", Some(_)) => Self::Cover(thing()?.into()),
            ("tags", None) => Self::Tags,
            ("labels", None) => Self::Stock,
            ("rack", None) => Self::Rack,
            ("elevation", Some(_)) => Self::Elevation {
                rack: thing()?.into(),
                face: face_of(more)?,
            },
            ("panel", Some(_)) => {
                let face = face_of(more)?;
                let panel = thing()?.into();
                match parts.next() {
                    None => Self::Panel { panel, face },
                    Some(number) => {
                        let number = PositionNumber::new(number.parse().ok()?)?;
                        let position = Position { panel, number };
                        Self::Position { position, face }
                    }
                }
            }
            ("hand", None) => Self::Hand,
            ("hand", Some(_)) => Self::HandCable(thing()?.into()),
            ("scan", None) => Self::Scan,
            ("proposal", None) => Self::Proposal,
            ("remotes", None) => Self::Remotes,
            ("find", None) => Self::Find,
            ("cable", Some(_)) => Self::Cable(thing()?.into()),
            ("feeds", Some(_)) => Self::Feeds(thing()?.into()),
            ("device", Some(_)) => Self::Device(thing()?.into()),
            ("joint", Some(_)) => Self::Joint(thing()?.into()),
            ("punch", None) => Self::Punch,
            ("job", None) => Self::Job,
            ("rooms", None) => Self::Rooms,
            ("types", None) => Self::Types,
            ("racks", None) => Self::Racks,
            ("conduits", None) => Self::Conduits,
            ("loose", None) => Self::Loose,
            ("import", None) => Self::Import,
            ("crew", None) => Self::Crew,
            ("incoming", None) => Self::Incoming,
            ("history", None) => Self::History,
            ("picture", Some(_)) => Self::Picture(thing()?.into()),
            _ => return None,
        })
    }
}

fn side_word(side: Side) -> &'static str {
    match side {
        Side::Near => "near",
        Side::Far => "far",
    }
}

fn face_of(word: Option<&str>) -> Option<Face> {
    let mut faces = [Face::Front, Face::Rear].into_iter();
    faces.find(|face| Some(face_word(*face)) == word)
}

fn face_word(face: Face) -> &'static str {
    match face {
        Face::Front => "front",
        Face::Rear => "rear",
    }
}

impl Route {
    /// The job that it belongs to.
    #[must_use]
    pub fn job(self) -> Option<JobId> {
        match self {
            Self::Job { job, .. } => Some(job),
            Self::Jobs | Self::Scan => None,
        }
    }

    /// The part of the address after `#`.
    #[must_use]
    pub fn print(self) -> String {
        match self {
            Self::Jobs => "/".to_owned(),
            Self::Scan => "/scan".to_owned(),
            Self::Job { job, screen } => format!("/{}/{}", job.0, screen.print()),
        }
    }

    /// Reads the part of the address after `#`; what makes no sense leads to the list of jobs.
    #[must_use]
    pub fn parse(hash: &str) -> Self {
        let path = hash.trim_start_matches('#').trim_start_matches('/');
        if path == "scan" {
            return Self::Scan;
        }
        let (job, screen) = path.split_once('/').unwrap_or((path, "wall"));
        match (job.parse::<Bits80>(), Screen::parse(screen)) {
            (Ok(job), screen) => Self::Job {
                job: JobId(job),
                screen: screen.unwrap_or(Screen::Wall),
            },
            (Err(_), _) => Self::Jobs,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn errands_of_the_first_screen_are_read() {
        assert_eq!(Errand::parse("#/demo"), Some(Errand::Demo));
        assert_eq!(Errand::parse("/open"), Some(Errand::JobFile));
        assert_eq!(Errand::parse("#/arrived"), Some(Errand::Arrived));
        // RFC 3986: é is the two bytes C3 A9 in UTF-8.
        let name = Errand::NewJob("Caf\u{e9} 100% \u{2014} Mill/Flat A".to_owned());
        assert_eq!(
            Errand::parse("#/new/Caf%C3%A9%20100%25%20%E2%80%94%20Mill%2FFlat%20A"),
            Some(name)
        );
        assert_eq!(
            Errand::parse("#/new/5%"),
            Some(Errand::NewJob("5%".to_owned()))
        );
        assert_eq!(Errand::parse("#/"), None);
        assert_eq!(Errand::parse("#/91JPRV3F91JPRV3F/wall"), None);
    }

    #[test]
    fn every_screen_has_an_address() {
        let id = ThingId {
            origin: Bits80([7; 10]),
            n: 3,
            index: 1,
        };
        let screens = [
            Screen::Wall,
            Screen::Room(id.into()),
            Screen::Outlet(id.into()),
            Screen::Pen {
                outlet: id.into(),
                place: 2,
            },
            Screen::Footage {
                of: FootageOf::Outlet(id.into()),
                side: Side::Far,
            },
            Screen::Footage {
                of: FootageOf::Bundle(id.into()),
                side: Side::Near,
            },
            Screen::Pull,
            Screen::PullSheet,
            Screen::Evening,
            Screen::Tags,
            Screen::Stock,
            Screen::Covers,
            Screen::Cover(id.into()),
            Screen::Rack,
            Screen::Elevation {
                rack: id.into(),
                face: Face::Rear,
            },
            Screen::Panel {
                panel: id.into(),
                face: Face::Rear,
            },
            Screen::Position {
                position: Position {
                    panel: id.into(),
                    number: PositionNumber::new(7).expect("a number"),
                },
                face: Face::Front,
            },
            Screen::Hand,
            Screen::HandCable(id.into()),
            Screen::Scan,
            Screen::Proposal,
            Screen::Feeds(id.into()),
            Screen::Device(id.into()),
            Screen::Joint(id.into()),
            Screen::Remotes,
            Screen::Find,
            Screen::Cable(id.into()),
            Screen::Punch,
            Screen::Job,
            Screen::Rooms,
            Screen::Types,
            Screen::Racks,
            Screen::Conduits,
            Screen::Loose,
            Screen::Import,
            Screen::History,
            Screen::Picture(id.into()),
        ];
        for screen in screens {
            let route = Route::Job {
                job: JobId(Bits80([9; 10])),
                screen,
            };
            assert_eq!(Route::parse(&format!("#{}", route.print())), route);
        }
        assert_eq!(Route::parse("#/scan"), Route::Scan);
        assert_eq!(Route::parse(&Route::Scan.print()), Route::Scan);
        for nonsense in ["", "#", "#/", "#/../../x", "#/91JPRV3F/wall"] {
            assert_eq!(Route::parse(nonsense), Route::Jobs, "{nonsense}");
        }
    }
}
