//! The usual cautions of a phase: shown until they are put away, never in the way of the work.

use crate::app::{Action, Caution, Model};
use crate::ui::Html;
use crate::ui::parts::{Tone, button};
use crate::ui::wording;
use crate::view::markup;

/// The cautions of a phase; nothing once they were read.
pub(in crate::ui) fn caution(model: &Model, of: Caution) -> Html {
    if model.cautions_read.contains(&of) {
        return markup! {};
    }
    markup! {
        <section class="caution" aria-labelledby="caution">
            <h2 id="caution">{ "Before you start" }</h2>
            <ul>{ for wording::cautions(of).iter().map(|words| markup! { <li>{ *words }</li> }) }</ul>
            { button("Read, put this away", Action::CautionRead(of), Tone::Quiet) }
        </section>
    }
}
