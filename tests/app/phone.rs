//! A phone at the wall: what is typed and tapped on it, and what it then says.

use bothends::app::plan::PlanForm;
use bothends::app::ports::Found;
use bothends::app::wall::WallForm;
use bothends::app::{Action, Effect, Field, Form, Model, Notice, Person, Screen, Theme, update};
use bothends::domain::ids::{OutletId, RoomId};
use bothends::domain::length::LengthUnit;
use bothends::domain::outlet_type::OutletKind;
use bothends::domain::place::End;
use bothends::journal::WallTime;
use bothends::query::wall;

use crate::support::still::Still;

/// A phone with a new job.
pub(super) struct Phone {
    pub(super) model: Model,
    world: Still,
}

impl Phone {
    pub(super) fn new() -> Self {
        let mut phone = Self {
            model: Model::default(),
            world: Still::at(WallTime(0), 0),
        };
        phone.types(Field::JobName, "Marrowby Mill");
        phone.acts(Action::Submit(Form::NewJob));
        phone
    }

    /// Another phone, with no job yet.
    pub(super) fn another() -> Self {
        Self {
            model: Model::default(),
            world: Still::at(WallTime(0), 100),
        }
    }

    pub(super) fn acts(&mut self, action: Action) -> Vec<Effect> {
        update(&mut self.model, action, &self.world)
    }

    pub(super) fn types(&mut self, field: Field, text: &str) {
        let text = text.to_owned();
        self.acts(Action::Typed { field, text });
    }

    pub(super) fn sends(&mut self, form: WallForm) -> Vec<Effect> {
        self.acts(Action::Submit(Form::Wall(form)))
    }

    /// The room whose fields are filled in.
    pub(super) fn adds_room(&mut self) -> Vec<Effect> {
        self.acts(Action::Submit(Form::Plan(PlanForm::AddRoom)))
    }

    /// The same phone after its page was loaded again.
    pub(super) fn reloads(&mut self) {
        self.reloads_with("");
    }

    /// The same, with what was kept of numbered remotes.
    pub(super) fn reloads_with(&mut self, remotes: &str) {
        self.reloads_with_kept("", remotes);
    }

    /// The same with what was kept of the tags.
    pub(super) fn reloads_with_tags(&mut self, tags: &str) {
        self.reloads_with_kept(tags, "");
    }

    fn reloads_with_kept(&mut self, tags: &str, remotes: &str) {
        let typed = self.model.typed();
        let hash = self.model.route.print();
        let open = self.model.open.as_ref().expect("a job");
        let lines = open.journal.lines().into_iter().map(str::to_owned);
        let (job, lines) = (open.journal.job(), lines.collect());
        self.model = Model::default();
        self.acts(Action::Started {
            tags: [tags.to_owned(), String::new(), String::new()],
            columns: String::new(),
            scan: [String::new(), String::new(), remotes.to_owned()],
            crew: String::new(),
            person: Person::default(),
            unit: LengthUnit::Feet,
            theme: Theme::default(),
            cautions_read: Vec::new(),
            hash,
            typed,
        });
        let lines = Ok(Found {
            items: lines,
            unreadable: 0,
        });
        self.acts(Action::JobRead { job, lines });
    }

    pub(super) fn field(&self, field: Field) -> &str {
        self.model.fields.get(field)
    }

    pub(super) fn refusal(&self) -> &str {
        match &self.model.notice {
            Some(Notice::Refused(refusal)) => &refusal.words,
            other => panic!("not refused: {other:?}"),
        }
    }

    pub(super) fn room(&mut self, name: &str) -> RoomId {
        self.types(Field::RoomName, name);
        self.adds_room();
        let rooms = wall::walls(self.model.registry().expect("a job")).rooms;
        rooms.last().expect("a room").room
    }

    /// An outlet with its screen open.
    pub(super) fn outlet(&mut self, room: RoomId, kind: &str) -> OutletId {
        let kind = OutletKind::usual(kind).expect("a usual type");
        self.sends(WallForm::AddOutlet { room, kind });
        let view = wall::room(self.model.registry().expect("a job"), room).expect("a room");
        let outlet = view.outlets.last().expect("an outlet").outlet;
        self.acts(Action::Go(Screen::Outlet(outlet)));
        outlet
    }

    pub(super) fn ends(&self, outlet: OutletId) -> Vec<wall::EndHere> {
        wall::ends(self.model.registry().expect("a job"), outlet)
    }

    pub(super) fn ends_of(&self, room: RoomId) -> Vec<End> {
        let view = wall::room(self.model.registry().expect("a job"), room).expect("a room");
        let ends = view.outlets.into_iter().flat_map(|outlet| outlet.ends);
        ends.map(|end| end.end).collect()
    }

    pub(super) fn marked(&self, outlet: OutletId) -> String {
        let ends = self.ends(outlet).into_iter();
        ends.filter(wall::EndHere::is_marked)
            .map(|end| end.jack.get())
            .collect()
    }
}
