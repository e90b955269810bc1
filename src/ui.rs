//! What the app shows: screens draw what `query` answers, and every touch is one [`Action`]. They
//! decide nothing.

use crate::app::{Action, Field, Form, Model, Route, Screen};
use crate::domain::place::Position;
use crate::view::{Node, Touch};

/// What stands round every screen.
mod frame;
/// Pieces that several screens use.
mod parts;
/// One file a screen.
mod screens;
/// Sentences that belong to no single screen.
mod wording;

/// A drawing whose touches are actions.
pub type Html = Node<Action>;

/// What a tap means.
fn tap(action: Action) -> Touch<Action> {
    Touch::Tap(action)
}

/// What a tap on the way to a screen means.
fn go(screen: Screen) -> Touch<Action> {
    tap(Action::Go(screen))
}

/// What typing into a field means.
fn typing(field: Field) -> Touch<Action> {
    Touch::Typed(Box::new(move |text| Action::Typed { field, text }))
}

/// What choosing from a list means.
fn choosing(field: Field) -> Touch<Action> {
    Touch::Chosen(Box::new(move |text| Action::Typed { field, text }))
}

/// What sending a form means.
fn sending(form: Form) -> Touch<Action> {
    Touch::Sent(Action::Submit(form))
}

/// The id of the element that a text is typed into.
#[must_use]
pub fn field_id(field: Field) -> String {
    parts::id(field)
}

/// Draws the whole app.
pub fn draw(model: &Model) -> Html {
    let screen = match model.route {
        Route::Jobs => return screens::jobs::draw(model),
        Route::Scan => return screens::scan::draw_outside(model),
        Route::Job { screen, .. } => screen,
    };
    let Some(open) = &model.open else {
        return frame::waiting(model);
    };
    match screen {
        Screen::Job => screens::job::draw(model, open),
        Screen::Find => screens::find::draw(model, open),
        Screen::Scan => screens::scan::draw(model, open),
        Screen::Remotes => screens::remotes::draw(model, open),
        Screen::Cable(id) => screens::cable::draw(model, open, id),
        Screen::Punch => screens::punch::draw(model, open),
        Screen::Loose => screens::loose::draw(model, open),
        Screen::History => screens::history::draw(model, open),
        Screen::Crew => screens::crew::draw(model, open),
        Screen::Incoming => screens::incoming::draw(model, open),
        Screen::Import => screens::import::draw(model, open),
        Screen::Wall => screens::wall::draw(model, open),
        Screen::Room(id) => screens::room::draw(model, open, id),
        Screen::Outlet(id) => screens::outlet::draw(model, open, id),
        Screen::Pen { outlet, place } => screens::pen::draw(model, open, outlet, place),
        Screen::Footage { of, side } => screens::footage::draw(model, open, of, side),
        Screen::Pull => screens::pull::draw(model, open),
        Screen::PullSheet => screens::pull::sheet(model, open),
        Screen::Tags => screens::tags::draw(model, open),
        Screen::Stock => screens::tags::stock(model, open),
        Screen::Evening => screens::evening::draw(model, open),
        Screen::Covers => screens::cover::list(model, open),
        Screen::Cover(id) => screens::cover::draw(model, open, id),
        Screen::Rack => screens::rack::draw(model, open),
        Screen::Elevation { rack, face } => screens::elevation::draw(model, open, rack, face),
        Screen::Panel { panel, face } => screens::panel::draw(model, open, panel, face, None),
        Screen::Position { position, face } => {
            let Position { panel, number } = position;
            screens::panel::draw(model, open, panel, face, Some(number))
        }
        Screen::Feeds(id) => screens::feeds::draw(model, open, id),
        Screen::Device(id) => screens::feeds::device(model, open, id),
        Screen::Joint(id) => screens::feeds::joint(model, open, id),
        Screen::Proposal => screens::propose::draw(model, open),
        Screen::Hand => screens::hand::draw(model, open),
        Screen::HandCable(id) => screens::hand_cable::draw(model, open, id),
        Screen::Rooms => screens::rooms::draw(model, open),
        Screen::Types => screens::types::draw(model, open),
        Screen::Racks => screens::racks::draw(model, open),
        Screen::Conduits => screens::racks::conduits(model, open),
        Screen::Picture(id) => screens::pictures::draw(model, open, id),
    }
}
