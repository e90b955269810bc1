//! What a job file would bring in, looked at before anything is taken in.

use crate::app::{Action, Incoming, Model, OpenJob, Screen};
use crate::names;
use crate::ui::Html;
use crate::ui::frame::{Page, framed, plain};
use crate::ui::parts::{Shape, Tone, button, empty, known, state};
use crate::view::markup;

/// How many rooms are named, and how many things for the punch list.
const SHOWN: usize = 20;

/// Draws what would come in.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob) -> Html {
    let mut page = Page::new("What would come in");
    page.above = open.name().to_owned();
    let job = open.journal.job();
    let Some(incoming) = model
        .incoming
        .as_ref()
        .filter(|incoming| incoming.is_of(job))
    else {
        page.back = Some(Screen::Job);
        page.body = empty(
            "No file is being looked at. Open the job file of another phone on the screen of the job.",
            button("To the job", Action::Go(Screen::Job), Tone::Quiet),
        );
        return framed(model, page);
    };
    page.body = markup! {
        <>
            if incoming.is_new {
                <p class="lead">{ "This job is not on this device yet. Nothing of it is kept before you take it in." }</p>
            }
            { for incoming.told().iter().chain(&incoming.missing).map(|words| markup! { <p class="notice told">{ words }</p> }) }
            { people(incoming) }
            { disagreements(incoming) }
            { rooms(incoming) }
        </>
    };
    let label = match (incoming.fresh(), incoming.pictures()) {
        (0, 1) => "Take in 1 picture".to_owned(),
        (0, pictures) => format!("Take in {pictures} pictures"),
        (fresh, _) => format!("Take in {}", records(fresh)),
    };
    // What may be altered is not to be taken in by a habit of the thumb.
    let (take, leave) = match incoming.doubtful() {
        0 => (Tone::Main, Tone::Quiet),
        _ => (Tone::Quiet, Tone::Main),
    };
    page.actions = markup! {
        <>
            { button(label, Action::TakeIn, take) }
            { button("Take nothing in", Action::LeaveIt, leave) }
        </>
    };
    if incoming.is_new {
        page.above = incoming.job_name().to_owned();
        return plain(model, page);
    }
    framed(model, page)
}

fn records(count: usize) -> String {
    match count {
        1 => "1 record".to_owned(),
        count => format!("{count} records"),
    }
}

fn people(incoming: &Incoming) -> Html {
    let counts = [
        (
            incoming.waits,
            "that cannot be used until what is missing comes",
        ),
        (incoming.clashes, "in two versions, of which neither counts"),
        (
            incoming.unreadable,
            "that cannot be read here, kept as they are",
        ),
        (
            incoming.doubtful(),
            "that may be altered, asked about afterwards",
        ),
    ];
    markup! {
        <section aria-labelledby="incoming-new">
            <h2 id="incoming-new">{ format!("{} new", incoming.fresh()) }</h2>
            <ul class="rows">
                { for incoming.people.iter().map(|(by, count)| markup! {
                    <li class="row">{ state(Shape::Full, records(*count)) }{ " by " }{ by }</li>
                }) }
                { for counts.into_iter().filter(|(count, _)| *count > 0).map(|(count, words)| markup! {
                    <li class="row">{ state(Shape::Alarm, records(count)) }{ " " }{ words }</li>
                }) }
            </ul>
            if !incoming.kinds.is_empty() {
                <p>{ format!("Among them: {}.", names::listed(&incoming.kinds)) }</p>
            }
            if incoming.pictures() > 0 {
                <p>{ format!("Pictures that come along: {}.", incoming.pictures()) }</p>
            }
            if !incoming.is_new {
                <p class="hint">{ format!("Here already: {}.", records(incoming.here)) }</p>
            }
        </section>
    }
}

fn disagreements(incoming: &Incoming) -> Html {
    let all = &incoming.disagreements;
    if all.is_empty() {
        if incoming.is_new {
            return markup! {};
        }
        return markup! { <p>{ state(Shape::Full, "Nobody disagrees with what is here.") }</p> };
    }
    let title = match all.len() {
        1 => "1 thing for the punch list".to_owned(),
        count => format!("{count} things for the punch list"),
    };
    let shown = &all[..all.len().min(SHOWN)];
    markup! {
        <section aria-labelledby="incoming-both">
            <h2 id="incoming-both">{ title }</h2>
            <p class="hint">{ "Both sides are kept. Settle them on the punch list after taking in." }</p>
            { known(shown) }
            if all.len() > shown.len() {
                <p>{ format!("and {} more", all.len() - shown.len()) }</p>
            }
        </section>
    }
}

fn rooms(incoming: &Incoming) -> Html {
    let all = &incoming.room_names;
    if all.is_empty() {
        return markup! {};
    }
    let shown = &all[..all.len().min(SHOWN)];
    markup! {
        <section aria-labelledby="incoming-rooms">
            <h2 id="incoming-rooms">{ "Rooms they were at work in" }</h2>
            { known(shown) }
            if all.len() > shown.len() {
                <p>{ format!("and {} more", all.len() - shown.len()) }</p>
            }
        </section>
    }
}
