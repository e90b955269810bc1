//! How every 8P8C jack of the job is wired: a badge, and behind it the eight pins with their colours.

use crate::app::{Action, OpenJob};
use crate::command::Want;
use crate::domain::pinout::{PairColour, Pin, Strand};
use crate::domain::work::Pinout;
use crate::ui::Html;
use crate::ui::parts::{Tone, button};
use crate::view::{classes, markup};

/// Width of a pin in units of the drawing.
const WIDE: usize = 36;

/// The badge; a tap opens the drawing.
pub(in crate::ui) fn pinout(open: &OpenJob) -> Html {
    let said = open.journal.registry().job.pinout.distinct();
    let words = match said.as_slice() {
        [] => "not chosen yet".to_owned(),
        [one] => one.words().to_owned(),
        _ => "people disagree: choose one".to_owned(),
    };
    let shown: Vec<Pinout> = match said.as_slice() {
        [one] => vec![**one],
        _ => Pinout::BOTH.to_vec(),
    };
    markup! {
        <details class="more pinout">
            <summary>{ "Jacks wired: " }<b class="badge">{ words }</b></summary>
            { for shown.into_iter().map(drawing) }
            { for Pinout::BOTH.into_iter().filter(|other| said.as_slice() != [other]).map(|other| {
                let want = Want::ChoosePinout { pinout: other };
                button(format!("Wire all jacks {}", other.words()), Action::Do { want, then: None }, Tone::Quiet)
            }) }
        </details>
    }
}

fn drawing(pinout: Pinout) -> Html {
    let pins = pinout.pins();
    markup! {
        <figure class="pins">
            <figcaption>{ pinout.words() }{ ", the jack seen from its opening, clip below" }</figcaption>
            <svg viewBox={format!("0 0 {} 92", WIDE * pins.len())} aria-hidden="true">
                { for pins.iter().map(|pin| conductor(*pin)) }
            </svg>
            <ol class="pin-words">
                { for pins.iter().map(|pin| markup! {
                    <li><b>{ pin.number }</b>{ " " }{ pin.words() }{ format!(", pair {}", pin.colour.pair()) }</li>
                }) }
            </ol>
        </figure>
    }
}

fn conductor(pin: Pin) -> Html {
    let x = (usize::from(pin.number) - 1) * WIDE;
    let colour = match pin.colour {
        PairColour::Blue => "wire-blue",
        PairColour::Orange => "wire-orange",
        PairColour::Green => "wire-green",
        PairColour::Brown => "wire-brown",
    };
    let stripes = match pin.strand {
        Strand::Solid => markup! {},
        Strand::Striped => markup! {
            <>
                <rect class="wire-white" x={(x + 6).to_string()} y="26" width="24" height="13" />
                <rect class="wire-white" x={(x + 6).to_string()} y="52" width="24" height="13" />
                <rect class="wire-white" x={(x + 6).to_string()} y="78" width="24" height="12" />
            </>
        },
    };
    markup! {
        <g>
            <text class="port-number" x={(x + WIDE / 2).to_string()} y="18">{ pin.number }</text>
            <rect class={classes(["wire", colour])} x={(x + 6).to_string()} y="26" width="24" height="64" />
            { stripes }
            <rect class="wire-edge" x={(x + 6).to_string()} y="26" width="24" height="64" />
        </g>
    }
}
