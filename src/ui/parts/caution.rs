//! The usual cautions of a phase, and hints for whoever is new: shown until they are put away, never in the
//! way of the work.

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
    let id = ["caution-", of.key()].concat();
    let title = match of {
        Caution::Wall | Caution::Rack => "Before you start",
        Caution::FirstSteps | Caution::Scan | Caution::Punch => "Good to know",
    };
    markup! {
        <section class="caution" aria-labelledby={id.clone()}>
            <h2 id={id}>{ title }</h2>
            <ul>{ for wording::cautions(of).iter().map(|words| markup! { <li>{ *words }</li> }) }</ul>
            if of == Caution::FirstSteps {
                { guide(model) }
            }
            { button("Read, put this away", Action::CautionRead(of), Tone::Quiet) }
        </section>
    }
}

/// The way to the page that is there to print; it leads back to this screen.
pub(in crate::ui) fn guide(model: &Model) -> Html {
    let to = ["./guide.html#", &model.route.print()].concat();
    markup! { <a class="button" href={to}>{ "The first five minutes, and a page to print for each trade" }</a> }
}
