//! Numbered remotes: which is in which jack, and what the tester shows at the rack.

use crate::app::remotes::{Remotes, missing, mixed_up, next, of, readings, remotes, spare};
use crate::app::{Action, Model, OpenJob, Screen};
use crate::command::Correction;
use crate::names;
use crate::query::remotes::{Mixed, REMOTES, Remote};
use crate::ui::Html;
use crate::ui::frame::{Page, framed};
use crate::ui::parts::{Shape, Tone, button, code, empty, state};
use crate::view::markup;

fn doing(action: Remotes) -> Action {
    Action::Scan(of(action))
}

/// A reading is taken once more.
const READ_AGAIN: &str = "Read it again";

/// Draws the remotes.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob) -> Html {
    let all = remotes(model);
    let mut page = Page::new("Numbered remotes");
    page.above = open.name().to_owned();
    page.back = Some(Screen::Rack);
    let next = next(model, &all);
    let is_wrong = |remote: &&Remote| readings(model, remote.cable).is_some();
    page.body = if all.is_empty() {
        empty(
            "No remote is in a jack. Open an outlet that takes plugs and whose cables are pulled, and put the numbered remotes into its jacks.",
            button("To the wall", Action::Go(Screen::Wall), Tone::Quiet),
        )
    } else {
        markup! {
            <>
                if all.iter().any(|remote| is_wrong(&remote)) {
                    <ul class="rows">{ for all.iter().filter(is_wrong).map(|remote| one(model, &all, remote)) }</ul>
                }
                if let Some(remote) = next { { reading(model, remote) } }
                <ul class="rows">{ for all.iter().filter(|remote| !is_wrong(remote)).map(|remote| one(model, &all, remote)) }</ul>
                <p class="hint">{ "Which remote is in which jack is known on this phone alone. On another one, put them in at their outlets in the same order." }</p>
            </>
        }
    };
    page.body = markup! {
        <>
            { page.body }
            { for missing(model).iter().map(|number| {
                button(format!("Remote {number} is missing: it is there again"), doing(Remotes::Found(*number)), Tone::Quiet)
            }) }
        </>
    };
    if !all.is_empty() {
        let tone = if next.is_none() {
            Tone::Main
        } else {
            Tone::Quiet
        };
        page.actions = button("All remotes are taken out", doing(Remotes::Out), tone);
    }
    framed(model, page)
}

/// Where the remote is read.
fn at(remote: &Remote) -> String {
    match &remote.position {
        Some(position) => format!("at {position}"),
        None => "at its tail".to_owned(),
    }
}

/// The number that the tester shows, one tap.
fn reading(model: &Model, remote: &Remote) -> Html {
    let shown = |number| doing(Remotes::Shown(remote.cable, number));
    let numbers =
        (1..=REMOTES).map(|number| button(number.to_string(), shown(Some(number)), Tone::Quiet));
    markup! {
        <section class="card" aria-labelledby="remote-next">
            <h2 id="remote-next">{ code(remote.code.clone()) }{ " " }{ at(remote) }{ ": which number does the tester show?" }</h2>
            <div class="remote-keys">{ for numbers }</div>
            { button("It shows nothing", shown(None), Tone::Quiet) }
            { other_remote(model, remote) }
        </section>
    }
}

fn one(model: &Model, all: &[Remote], remote: &Remote) -> Html {
    let is_next = next(model, all).is_some_and(|next| next.cable == remote.cable);
    let jack = format!("Remote {} in the jack of ", remote.number);
    let told = match (remote.proved, readings(model, remote.cable)) {
        (_, Some(number)) => wrong(model, all, remote, number),
        // Of readings that do not fit one another, this one may be the wrong one.
        (true, None) => markup! {
            <>
                { state(Shape::Full, "verified") }
                if all.iter().any(|other| readings(model, other.cable).is_some()) {
                    { button(READ_AGAIN, doing(Remotes::Again(remote.cable)), Tone::Quiet) }
                }
            </>
        },
        (false, None) if remote.failed => markup! {
            <>
                { state(Shape::Alarm, "failed") }
                { button(READ_AGAIN, doing(Remotes::Again(remote.cable)), Tone::Quiet) }
            </>
        },
        // Whoever stands at another position reads that one first.
        (false, None) if !is_next => markup! {
            <>
                { state(Shape::Hollow, "to be read") }
                { button(format!("Read {} now", remote.code), doing(Remotes::Again(remote.cable)), Tone::Quiet) }
            </>
        },
        (false, None) => state(Shape::Half, "is read now"),
    };
    markup! {
        <li class="row remote">
            <p>{ jack }{ code(remote.code.clone()) }{ ", " }{ at(remote) }</p>
            <div>{ told }</div>
        </li>
    }
}

/// Another remote for the jack that is read, or none: a set is not always whole.
fn other_remote(model: &Model, remote: &Remote) -> Html {
    let put = |number| doing(Remotes::In(remote.cable, number));
    let number = remote.number;
    let spare = spare(model).into_iter();
    let keys = spare.map(|other| button(other.to_string(), put(Some(other)), Tone::Quiet));
    markup! {
        <details class="more">
            <summary>{ "Another remote is in its jack, or none" }</summary>
            <div class="form">
                <div class="remote-keys">{ for keys }</div>
                { button("This jack has none", put(None), Tone::Quiet) }
                { button(format!("Remote {number} is missing from the set"), doing(Remotes::Missing(number)), Tone::Quiet) }
            </div>
        </details>
    }
}

/// What a reading that proves nothing says, and the ways on from it.
fn wrong(model: &Model, all: &[Remote], remote: &Remote, number: Option<u8>) -> Html {
    let again = button(READ_AGAIN, doing(Remotes::Again(remote.cable)), Tone::Quiet);
    let words = if remote.failed {
        "Leave it so: it is noted as failed"
    } else {
        "Note what it shows as failed"
    };
    let failed = button(words, doing(Remotes::Failed(remote.cable)), Tone::Quiet);
    let code = &remote.code;
    let Some(number) = number else {
        return markup! {
            <>
                { state(Shape::Alarm, "the tester shows nothing") }
                <p>{ format!("{code} is cut, not terminated at one end, or another cable is here. Look at both plugs before you note it.") }</p>
                <div class="actions-pair">{ again }{ failed }</div>
            </>
        };
    };
    let found = all.iter().find(|one| one.number == number);
    let Some(found) = found else {
        return markup! {
            <>
                { state(Shape::Alarm, format!("the tester shows {number}, which is in no jack here")) }
                <p>{ format!("Read it again. If it stays, look at which remote is in the jack of {code}, and whether somebody else has put remote {number} elsewhere.") }</p>
                <div class="actions-pair">{ again }{ failed }</div>
            </>
        };
    };
    let other = &found.code;
    let shows = state(
        Shape::Alarm,
        format!("the tester shows {number}, which is in the jack of {other}"),
    );
    let doubt = match mixed_up(model, all, remote) {
        // A ring is told once, at the first of those that are in it.
        Mixed::Ring(ring) => {
            let is_told = ring.iter().all(|one| one.number >= remote.number);
            return markup! {
                <>
                    { shows }
                    if is_told { { crossed(remote, &ring, markup! { <>{ again }{ failed }</> }) } }
                </>
            };
        }
        Mixed::Unread(last) if last.cable == found.cable => format!(
            "Read {other} next. If the tester shows {} there, the two are crossed.",
            remote.number
        ),
        Mixed::Unread(last) => format!(
            "{other} shows another number again, so more than two are mixed up. Read {} next: it tells who.",
            last.code
        ),
        Mixed::Doubtful(last) => {
            let last = &last.code;
            format!(
                "This leads to {last}, and what was read there does not fit it. One of the readings is wrong: read {last} and {code} again."
            )
        }
    };
    markup! { <>{ shows }<p>{ doubt }</p><div class="actions-pair">{ again }{ failed }</div></> }
}

/// Which cables are crossed, and the ways to put all of them right at once.
fn crossed(remote: &Remote, ring: &[Remote], others: Html) -> Html {
    let code = &remote.code;
    let next = |at: usize| &ring[(at + 1) % ring.len()].code;
    let pairs = |between: &str| {
        let each = ring.iter().enumerate();
        let each = each.map(|(at, one)| [one.code.as_str(), between, next(at)].concat());
        names::listed(&each.collect::<Vec<_>>())
    };
    let codes: Vec<String> = ring.iter().map(|one| one.code.clone()).collect();
    let codes = names::listed(&codes);
    let is_landed = ring.iter().any(|one| one.landed);
    let told = match ring {
        [_, other] => format!(
            "{codes} are crossed: what is called {code} here comes out where {} does.",
            other.code
        ),
        _ => format!(
            "{codes} are mixed up in a ring. By its tag against what it is: {}.",
            pairs(" is really ")
        ),
    };
    let put = |how| doing(Remotes::Crossed(remote.cable, how));
    markup! {
        <>
            <p>{ told }</p>
            if is_landed {
                <p>{ format!("Either move the plugs, here or at the plate, and read again. Or leave them and put the record right: then change their tags here as well, {}.", pairs(" to ")) }</p>
            }
            <div class="actions-pair">
                if is_landed {
                    { button(format!("Put the record right for {codes}"), put(Correction::RecordChanges), Tone::Quiet) }
                } else {
                    { button(format!("I change the tags here: {}", pairs(" to ")), put(Correction::TagsMove), Tone::Quiet) }
                }
                { others }
            </div>
        </>
    }
}
