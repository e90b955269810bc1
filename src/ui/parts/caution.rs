//! The usual cautions of a phase: shown until they are put away, never in the way of the work.

use yew::{Html, html};

use crate::app::{Action, Caution, Model};
use crate::ui::Ui;
use crate::ui::parts::{Tone, button};
use crate::ui::wording;

/// The cautions of a phase; nothing once they were read.
pub(in crate::ui) fn caution(ui: &Ui, model: &Model, of: Caution) -> Html {
    if model.cautions_read.contains(&of) {
        return html! {};
    }
    html! {
        <section class="caution" aria-labelledby="caution">
            <h2 id="caution">{ "Before you start" }</h2>
            <ul>{ for wording::cautions(of).iter().map(|words| html! { <li>{ *words }</li> }) }</ul>
            { button(ui, "Read, put this away", Action::CautionRead(of), Tone::Quiet) }
        </section>
    }
}
