//! From phone to phone without a file: codes on one screen, the camera of the other.

use crate::app::relay::{Part, RelayAction, Showing};
use crate::app::{Action, Model, OpenJob, Screen};
use crate::ui::Html;
use crate::ui::frame::{Page, framed};
use crate::ui::parts::{Tone, button};
use crate::view::markup;

fn doing(action: RelayAction) -> Action {
    Action::Relay(action)
}

/// Draws the codes, or what can be shown.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob) -> Html {
    let mut page = Page::new("Phone to phone");
    page.above = open.name().to_owned();
    page.back = Some(Screen::Job);
    match &model.relay.showing {
        None => page.body = choose(),
        Some(showing) => {
            page.body = running(showing);
            page.actions = button(
                "Put the codes away",
                doing(RelayAction::PutAway),
                Tone::Main,
            );
        }
    }
    framed(model, page)
}

fn choose() -> Html {
    let show =
        |words: &'static str, part, tone| button(words, doing(RelayAction::Show(part)), tone);
    markup! {
        <>
            <p class="lead">{ "No network and no file: this screen shows codes, the other phone scans them." }</p>
            <section class="card" aria-labelledby="crew-take">
                <h2 id="crew-take">{ "Take in what the other phone has" }</h2>
                <ol class="known">
                    <li>{ "Show what is here. The other phone scans it, so it shows no more than is lacking." }</li>
                    <li>{ "Then scan the codes that it shows." }</li>
                </ol>
                { button("Show what is here", doing(RelayAction::ShowKnown), Tone::Quiet) }
                { button("Scan its codes", Action::Go(Screen::Scan), Tone::Quiet) }
            </section>
            <section class="card" aria-labelledby="crew-give">
                <h2 id="crew-give">{ "Give the other phone what is here" }</h2>
                <p class="hint">{ "Scan first what it shows under “Show what is here”. Or choose:" }</p>
                { button("Scan what it has", Action::Go(Screen::Scan), Tone::Quiet) }
                { show("Show today’s work", Part::Today, Tone::Quiet) }
                { show("Show the last seven days", Part::Week, Tone::Quiet) }
                { show("Show the whole job", Part::All, Tone::Quiet) }
            </section>
        </>
    }
}

fn running(showing: &Showing) -> Html {
    let Some((size, path)) = showing.codes.get(showing.at) else {
        return markup! { <p class="lead" role="status">{ "Making the codes …" }</p> };
    };
    let side = size + 8;
    let of = showing.codes.len();
    let words = match of {
        1 => "One code.".to_owned(),
        of => format!(
            "Code {} of {of}. They go round in {} s.",
            showing.at + 1,
            showing.seconds()
        ),
    };
    let (hold, hold_words) = (
        !showing.held,
        if showing.held {
            "Go on"
        } else {
            "Hold this one"
        },
    );
    let (slow, slow_words) = (
        !showing.slow,
        if showing.slow { "Faster" } else { "Slower" },
    );
    markup! {
        <>
            <p class="lead">{ &showing.what }</p>
            <svg class="relay-code" role="img" aria-label="A code for the other phone" viewBox={format!("-4 -4.5 {side} {side}")}>
                <path d={path.clone()} />
            </svg>
            <p>{ words }</p>
            if of > 1 {
                <div class="actions-pair">
                    { button(hold_words, doing(RelayAction::Hold(hold)), Tone::Quiet) }
                    { button(slow_words, doing(RelayAction::Slow(slow)), Tone::Quiet) }
                </div>
            }
            <p class="hint">{ "On the other phone: Scan, at arm’s length, so that the whole code is in view. It counts what it has." }</p>
        </>
    }
}

/// How many codes of another phone were scanned.
pub(super) fn gathered(model: &Model) -> Html {
    if model.relay.gathering.is_empty() {
        return markup! {};
    }
    let (here, of) = model.relay.gathering.progress();
    markup! {
        <div class="notice told" role="status">
            <p>{ format!("{here} of {of} codes of the other phone. Hold on until all are in; any order will do.") }</p>
            <progress max={of.to_string()} value={here.to_string()} aria-label="Codes scanned">{ "" }</progress>
            { button("Drop these codes", doing(RelayAction::Forget), Tone::Way) }
        </div>
    }
}
