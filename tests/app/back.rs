//! The way back, in a history as a browser keeps it (HTML Living Standard, "session history": pushing
//! drops what lay ahead, going back tells of a new address only where it differs).

use std::cell::Cell;

use bothends::app::plan::PlanForm;
use bothends::app::ports::Way;
use bothends::app::wall::WallForm;
use bothends::app::{Action, Effect, Field, Form, Model, Notice, Screen, World, update};
use bothends::command::Want;
use bothends::domain::ids::{Bits80, OutletId, RoomId};
use bothends::domain::outlet_type::OutletKind;
use bothends::journal::WallTime;
use bothends::query::wall;
use bothends::ui;
use bothends::view::Touch;

use crate::support::still::Still;

/// A device whose browser keeps a history.
struct Device {
    still: Still,
    way: Cell<Way>,
}

impl World for Device {
    fn now(&self) -> WallTime {
        self.still.now()
    }

    fn bits(&self) -> Bits80 {
        self.still.bits()
    }

    fn way(&self) -> Option<Way> {
        Some(self.way.get())
    }
}

/// The app in a tab.
struct Tab {
    model: Model,
    device: Device,
    /// The addresses, each with what is kept of it.
    history: Vec<(String, Way)>,
    /// How far down the page is.
    top: i32,
}

impl Tab {
    /// A tab with a new job, an outlet in its only room, and nothing behind the first screen.
    fn new() -> (Self, RoomId, OutletId) {
        let mut tab = Self {
            model: Model::default(),
            device: Device {
                still: Still::at(WallTime(0), 0),
                way: Cell::default(),
            },
            history: vec![("/".to_owned(), Way::default())],
            top: 0,
        };
        tab.types(Field::JobName, "Marrowby Mill");
        tab.acts(Action::Submit(Form::NewJob));
        tab.types(Field::RoomName, "Kitchen");
        tab.acts(Action::Submit(Form::Plan(PlanForm::AddRoom)));
        let room = wall::walls(tab.model.registry().expect("a job")).rooms[0].room;
        let kind = OutletKind::usual("data").expect("a usual type");
        for _ in 0..2 {
            let form = WallForm::AddOutlet { room, kind };
            tab.acts(Action::Submit(Form::Wall(form)));
        }
        let outlet = tab.outlet_of(room, 0);
        tab.history = vec![(tab.model.route.print(), Way::default())];
        tab.stands();
        (tab, room, outlet)
    }

    fn outlet_of(&self, room: RoomId, place: usize) -> OutletId {
        let view = wall::room(self.model.registry().expect("a job"), room).expect("a room");
        view.outlets[place].outlet
    }

    fn types(&mut self, field: Field, text: &str) {
        let text = text.to_owned();
        self.acts(Action::Typed { field, text });
    }

    /// Lets something happen, and does with the history what is asked.
    fn acts(&mut self, action: Action) -> Vec<Effect> {
        let page = self.model.page;
        let effects = update(&mut self.model, action, &self.device);
        for effect in &effects {
            match effect {
                Effect::SetHash(hash) => {
                    let left = self.history.last_mut().expect("an address");
                    left.1.page = page;
                    left.1.top = self.top;
                    let way = Way {
                        behind: left.1.behind + 1,
                        ..Way::default()
                    };
                    self.history.push((hash.clone(), way));
                    self.top = 0;
                }
                Effect::ReplaceHash(hash) => {
                    self.history.last_mut().expect("an address").0 = hash.clone();
                }
                Effect::Back(steps) => {
                    self.goes_back(usize::try_from(*steps).expect("steps"));
                }
                Effect::ScrollTo(top) => self.top = *top,
                _ => {}
            }
        }
        self.stands();
        effects
    }

    fn stands(&self) {
        let way = self.history.last().expect("an address").1;
        self.device.way.set(way);
    }

    /// What the browser does, whoever asks it to.
    fn goes_back(&mut self, steps: usize) {
        self.history.truncate(self.history.len() - steps);
        self.stands();
        let (hash, _) = self
            .history
            .last()
            .expect("nothing is behind the first")
            .clone();
        self.acts(Action::HashChanged(hash));
    }

    /// Taps "Back", which would lead to this screen if nothing was behind.
    fn taps_back(&mut self, parent: Screen) {
        self.acts(Action::Back(parent));
        let (hash, _) = self.history.last().expect("an address");
        assert_eq!(*hash, self.model.route.print());
    }

    fn screen(&self) -> Screen {
        self.model.screen().expect("a screen of a job")
    }
}

#[test]
fn back_leads_to_where_one_came_from_and_finds_it_as_it_was() {
    let (mut tab, room, outlet) = Tab::new();
    tab.acts(Action::Go(Screen::Punch));
    tab.acts(Action::Page(1));
    tab.top = 7000;
    tab.acts(Action::Go(Screen::Outlet(outlet)));
    assert_eq!((tab.model.page, tab.top), (0, 0));
    tab.taps_back(Screen::Room(room));
    assert_eq!(tab.screen(), Screen::Punch);
    assert_eq!((tab.model.page, tab.top), (1, 7000));
    // The bar leads back to it too, where it lies right behind.
    tab.acts(Action::Go(Screen::Outlet(outlet)));
    tab.acts(Action::Go(Screen::Punch));
    assert_eq!((tab.model.page, tab.top), (1, 7000));
    // The browser's own way back does the same.
    tab.acts(Action::Go(Screen::Outlet(outlet)));
    tab.goes_back(1);
    assert_eq!(tab.screen(), Screen::Punch);
    assert_eq!((tab.model.page, tab.top), (1, 7000));
    assert_eq!(tab.history.len(), 2, "nothing was heaped up");
}

#[test]
fn back_from_an_address_leads_to_the_parent_and_from_there_no_deeper() {
    let (mut tab, room, outlet) = Tab::new();
    tab.acts(Action::Go(Screen::Outlet(outlet)));
    // It is opened by its address: nothing of the app is behind it.
    tab.history = vec![(tab.model.route.print(), Way::default())];
    tab.stands();
    tab.taps_back(Screen::Room(room));
    assert_eq!(tab.screen(), Screen::Room(room));
    tab.taps_back(Screen::Wall);
    assert_eq!(tab.screen(), Screen::Wall);
    tab.acts(Action::Go(Screen::Room(room)));
    tab.taps_back(Screen::Wall);
    assert_eq!(tab.screen(), Screen::Wall);
    assert_eq!(tab.history.len(), 1);
}

#[test]
fn after_the_page_was_loaded_anew_the_screens_behind_it_are_there_still() {
    let (mut tab, room, outlet) = Tab::new();
    tab.acts(Action::Go(Screen::Punch));
    tab.acts(Action::Page(1));
    tab.top = 500;
    tab.acts(Action::Go(Screen::Outlet(outlet)));
    // What was known of the way here is gone with the memory of the page.
    tab.model.trail.clear();
    tab.taps_back(Screen::Room(room));
    assert_eq!(tab.screen(), Screen::Punch);
    assert_eq!((tab.model.page, tab.top), (1, 500));
}

#[test]
fn what_was_done_stays_said_where_it_leads_back() {
    let (mut tab, room, outlet) = Tab::new();
    let other = tab.outlet_of(room, 1);
    tab.acts(Action::Go(Screen::Room(room)));
    tab.acts(Action::Go(Screen::Outlet(other)));
    tab.acts(Action::Go(Screen::Outlet(outlet)));
    let want = Want::MergeOutlets {
        from: outlet,
        into: other,
    };
    let then = Some(Screen::Outlet(other));
    tab.acts(Action::Do { want, then });
    assert_eq!(tab.screen(), Screen::Outlet(other));
    assert!(matches!(tab.model.notice, Some(Notice::Done { .. })));
    // Not into the outlet that is cancelled now.
    tab.taps_back(Screen::Room(room));
    assert_eq!(tab.screen(), Screen::Room(room));
}

#[test]
fn initials_are_added_on_the_way_and_what_was_done_can_still_be_taken_back() {
    let (mut tab, room, outlet) = Tab::new();
    tab.acts(Action::Go(Screen::Room(room)));
    tab.acts(Action::Go(Screen::Outlet(outlet)));
    let done = cancels(&mut tab, outlet);
    let effects = tab.acts(Action::AddInitials);
    assert_eq!(tab.screen(), Screen::Job);
    let focused = effects
        .iter()
        .rev()
        .find(|effect| matches!(effect, Effect::FocusField(_) | Effect::FocusHeading));
    assert_eq!(focused, Some(&Effect::FocusField(Field::Initials)));
    assert_eq!(tab.model.notice, done);
    // Whoever would rather not has the way back in the bar.
    assert!(ways_back(&tab).contains(&Screen::Outlet(outlet)));
    tab.types(Field::Initials, "RK");
    tab.acts(Action::Submit(Form::Person));
    assert_eq!(tab.screen(), Screen::Outlet(outlet));
    assert_eq!(tab.model.notice, done);
    assert_eq!(tab.model.person.initials, "RK");
    tab.taps_back(Screen::Wall);
    assert_eq!(tab.screen(), Screen::Room(room));
    // Whoever goes to the job by himself stays there, and what was done before is not what is said.
    tab.acts(Action::Go(Screen::Job));
    assert!(ways_back(&tab).is_empty());
    tab.acts(Action::Submit(Form::Person));
    assert_eq!(tab.screen(), Screen::Job);
    assert!(matches!(tab.model.notice, Some(Notice::Told(_))));
}

/// Cancels an outlet, and gives what is said of it.
fn cancels(tab: &mut Tab, outlet: OutletId) -> Option<Notice> {
    let want = Want::CancelOutlet {
        outlet,
        reason: "A window is there".to_owned(),
    };
    tab.acts(Action::Do { want, then: None });
    let done = tab.model.notice.clone();
    assert!(matches!(done, Some(Notice::Done { .. })));
    done
}

/// The screens to which the bar leads back.
fn ways_back(tab: &Tab) -> Vec<Screen> {
    let mut ways = Vec::new();
    ui::draw(&tab.model).each(&mut |element| {
        for touch in &element.touches {
            if let Touch::Tap(Action::Back(to)) = touch {
                ways.push(*to);
            }
        }
    });
    ways
}

#[test]
fn what_was_done_can_be_taken_back_at_the_next_outlet_still() {
    let (mut tab, room, outlet) = Tab::new();
    tab.acts(Action::Go(Screen::Outlet(outlet)));
    let done = cancels(&mut tab, outlet);
    tab.acts(Action::GoOn(Screen::Room(room)));
    assert_eq!(tab.model.notice, done);
    tab.acts(Action::Go(Screen::Wall));
    assert_eq!(tab.model.notice, None);
}
