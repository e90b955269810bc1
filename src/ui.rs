//! Drawing and reading events in Yew. Screens draw what `query` answers and send what people do as
//! one [`Action`]; they decide nothing.

use yew::{Callback, Html, InputEvent, MouseEvent, SubmitEvent};

use crate::app::{Action, Field, Form, Model, Route, Screen};

/// What a page event says.
mod events;
/// What stands round every screen.
mod frame;
/// Pieces that several screens use.
mod parts;
/// One file a screen.
mod screens;
/// Sentences that belong to no single screen.
mod wording;

/// The way from a screen to the app.
#[derive(Clone, PartialEq)]
pub struct Ui {
    dispatch: Callback<Action>,
}

impl Ui {
    /// Sends actions to `dispatch`.
    #[must_use]
    pub fn new(dispatch: Callback<Action>) -> Self {
        Self { dispatch }
    }

    /// What a tap sends.
    fn tap(&self, action: Action) -> Callback<MouseEvent> {
        let dispatch = self.dispatch.clone();
        Callback::from(move |_: MouseEvent| dispatch.emit(action.clone()))
    }

    /// Sends an action.
    fn send(&self, action: Action) {
        self.dispatch.emit(action);
    }

    /// What a tap on the way to a screen sends.
    fn go(&self, screen: Screen) -> Callback<MouseEvent> {
        self.tap(Action::Go(screen))
    }

    /// What typing into a field sends.
    fn typed(&self, field: Field) -> Callback<InputEvent> {
        let dispatch = self.dispatch.clone();
        Callback::from(move |event: InputEvent| {
            if let Some(text) = events::text(&event) {
                dispatch.emit(Action::Typed { field, text });
            }
        })
    }

    /// What choosing from a list sends.
    fn chosen(&self, field: Field) -> Callback<yew::Event> {
        let dispatch = self.dispatch.clone();
        Callback::from(move |event: yew::Event| {
            if let Some(text) = events::text(&event) {
                dispatch.emit(Action::Typed { field, text });
            }
        })
    }

    /// What sending a form sends.
    fn submit(&self, form: Form) -> Callback<SubmitEvent> {
        let dispatch = self.dispatch.clone();
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            dispatch.emit(Action::Submit(form));
        })
    }
}

/// Draws the whole app.
pub fn draw(ui: &Ui, model: &Model) -> Html {
    let Route::Job { screen, .. } = model.route else {
        return screens::jobs::draw(ui, model);
    };
    let Some(open) = &model.open else {
        return frame::waiting(ui, model);
    };
    match screen {
        Screen::Job => screens::job::draw(ui, model, open),
        Screen::Find => screens::find::draw(ui, model, open),
        Screen::Cable(id) => screens::cable::draw(ui, model, open, id),
        Screen::Punch => screens::punch::draw(ui, model, open),
        Screen::Loose => screens::loose::draw(ui, model, open),
        Screen::History => screens::history::draw(ui, model, open),
        Screen::Import => screens::import::draw(ui, model, open),
        Screen::Wall => screens::wall::draw(ui, model, open),
        Screen::Room(id) => screens::room::draw(ui, model, open, id),
        Screen::Outlet(id) => screens::outlet::draw(ui, model, open, id),
        Screen::Pen { outlet, place } => screens::pen::draw(ui, model, open, outlet, place),
        Screen::Footage { outlet, side } => screens::footage::draw(ui, model, open, outlet, side),
        Screen::Rack => screens::rack::draw(ui, model, open),
        Screen::Panel { panel, face } => screens::panel::draw(ui, model, open, panel, face),
        Screen::Hand => screens::hand::draw(ui, model, open),
        Screen::HandCable(id) => screens::hand_cable::draw(ui, model, open, id),
        Screen::Rooms => screens::rooms::draw(ui, model, open),
        Screen::Types => screens::types::draw(ui, model, open),
        Screen::Racks => screens::racks::draw(ui, model, open),
    }
}
