//! What the camera sees, and what is shown of a tag that was read.

use super::crew::gathered;
use super::scanned::{aloud_button, to_open};
use crate::app::scan::{Abilities, Camera, Hint, NoCamera, Passed, ScanAction, stand, stand_key};
use crate::app::{Action, Caution, Field, Model, OpenJob, Purpose, Screen};
use crate::names;
use crate::query::scan::{Stand, left_here, stand_words, stands};
use crate::ui::frame::{Page, framed, plain};
use crate::ui::parts::caution::caution;
use crate::ui::parts::{Shape, Tone, button, choice, code, state, text_field};
use crate::ui::{Html, tap};
use crate::view::{Touch, markup};

pub(super) fn doing(action: ScanAction) -> Action {
    Action::Scan(action)
}

/// Draws the scanner of the open job.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob) -> Html {
    let mut page = Page::new("Scan a tag");
    page.above = open.name().to_owned();
    page.back = Some(model.scan.from.unwrap_or(Screen::Wall));
    let is_answered = model.scan.answer.is_some();
    // What was typed and names nothing stands in its field still, to be mended.
    let answer = model.scan.answer.as_ref();
    let is_named = answer.is_some_and(|answer| !answer.targets.is_empty());
    // Where there was no camera before, the field stays where it is while it is asked for once more.
    let is_on = matches!(model.scan.camera, Camera::On(_));
    let is_missing = matches!(model.scan.camera, Camera::Missing(_));
    let is_blind = is_answered || is_missing || model.scan.explained && !is_on;
    page.body = markup! {
        <>
            if model.scan.walk {
                { left(model, open) }
            }
            if is_blind && !is_named {
                { other_ways(model) }
            }
            if !is_answered {
                { gathered(model) }
                { camera(model) }
            }
            { passed(&model.scan.passed) }
            { walking(model) }
            { choice(model, Field::ScanStand, "Where you stand", standing(model, open)) }
            if !is_answered {
                { caution(model, Caution::Scan) }
            }
            if !is_blind {
                { other_ways(model) }
            }
        </>
    };
    page.actions = if is_answered {
        button("Scan again", doing(ScanAction::Again), Tone::Main)
    } else {
        photograph()
    };
    framed(model, page)
}

/// Draws the scanner while no job is open: a tag then says what it says by itself.
pub(in crate::ui) fn draw_outside(model: &Model) -> Html {
    let mut page = Page::new("Scan a tag");
    page.above = "Bothends".to_owned();
    page.body = match &model.scan.answer {
        None => markup! { <>{ gathered(model) }{ camera(model) }{ other_ways(model) }</> },
        Some(answer) => markup! {
            <section class="scanned" aria-labelledby="scanned">
                <h2 id="scanned">{ code(answer.shown.clone()) }</h2>
                { for answer.said.iter().map(|words| markup! { <p>{ words }</p> }) }
                { to_open(model, answer) }
                { aloud_button([&answer.shown, ". ", &answer.said.join(" ")].concat()) }
            </section>
        },
    };
    let jobs = button("All jobs", Action::GoToJobs, Tone::Quiet);
    page.actions = if model.scan.answer.is_some() {
        let again = button("Scan again", doing(ScanAction::Again), Tone::Main);
        markup! { <>{ again }{ jobs }</> }
    } else {
        markup! { <>{ photograph() }{ jobs }</> }
    };
    plain(model, page)
}

fn camera(model: &Model) -> Html {
    match &model.scan.camera {
        Camera::Missing(why) => without(why, model.scan.explained),
        Camera::Off | Camera::Starting => markup! {
            <div class="scan-view">{ video() }<p class="scan-hint" role="status">{ "Waking the camera …" }</p></div>
        },
        Camera::On(abilities) => markup! {
            <>
                <div class="scan-view">
                    { video() }
                    <p class="scan-hint" role="status">{ hint(model, abilities) }</p>
                </div>
                { controls(model, abilities) }
            </>
        },
    }
}

fn video() -> Html {
    markup! { <video id="scan-video" key={"video".to_owned()} playsinline="" aria-label="What the camera sees"></video> }
}

fn hint(model: &Model, of: &Abilities) -> &'static str {
    match model.scan.hint {
        Hint::TooFar => "There is a code, too small to read. Go nearer.",
        Hint::TooDark if of.torch && !model.scan.torch => "Too dark: use the light below.",
        Hint::TooDark => "Too dark to read. Bring a lamp, or turn the tag to the light.",
        Hint::Nothing if !model.relay.gathering.is_empty() => {
            "Hold the other phone in view at arm's length."
        }
        Hint::Nothing => "Hold the tag flat in view, 10 to 20 cm (4 to 8 in) away.",
    }
}

fn controls(model: &Model, of: &Abilities) -> Html {
    let (light, tone) = match (model.scan.torch, model.scan.hint) {
        (true, _) => ("Light off", Tone::Quiet),
        (false, Hint::TooDark) => ("Light on", Tone::Main),
        (false, Hint::TooFar | Hint::Nothing) => ("Light on", Tone::Quiet),
    };
    markup! {
        <div class="actions-pair">
            if of.torch {
                { button(light, doing(ScanAction::Torch), tone) }
            }
            if of.zoom.is_some() {
                { button(zoom(model.scan.zoom), doing(ScanAction::Zoom), Tone::Quiet) }
            }
            if of.lenses.len() > 1 {
                { button("Another lens", doing(ScanAction::NextLens), Tone::Quiet) }
            }
        </div>
    }
}

fn zoom(times: u8) -> String {
    match times {
        0 | 1 => "Larger".to_owned(),
        times => format!("{times} times as large"),
    }
}

/// What to do without a camera: said at length once, and in short from then on.
fn without(why: &NoCamera, explained: bool) -> Html {
    let allow = match (explained, why) {
        (false, NoCamera::Refused) => "You can allow it in the browser's settings for this page. ",
        _ => "",
    };
    let round = match explained {
        true => "Take a photograph of the tag, or type what stands on it.",
        false => {
            "All works without it as well: take or choose a photograph of the tag, or type what stands on it. Pictures are read on this device and go nowhere."
        }
    };
    markup! {
        <div class="notice told scan-without">
            <p>{ why.to_string() }{ " " }{ allow }{ round }</p>
            { button("Try the camera again", doing(ScanAction::TryCamera), Tone::Way) }
        </div>
    }
}

fn other_ways(model: &Model) -> Html {
    markup! {
        <form class="card form" onsubmit={Touch::Sent(doing(ScanAction::Typed))}>
            { text_field(model, Field::ScanText, "What stands on the tag", "Such as KIT2-C, kit2c or B07") }
            <button type="submit" class="button">{ "Show it" }</button>
        </form>
    }
}

fn photograph() -> Html {
    let pick = Action::PickFile(Purpose::TagPhoto);
    button("Take or choose a photograph", pick, Tone::Quiet)
}

pub(super) fn standing(model: &Model, open: &OpenJob) -> Vec<(String, String)> {
    let registry = open.journal.registry();
    let words = |stand| match stand {
        Stand::Unknown => "Not said".to_owned(),
        Stand::Wall => "At the wall".to_owned(),
        stand => format!("At {}", stand_words(registry, stand)),
    };
    let all = stands(registry, stand(model)).into_iter();
    all.map(|stand| (stand_key(stand), words(stand))).collect()
}

fn walking(model: &Model) -> Html {
    let walk = model.scan.walk;
    markup! {
        <button type="button" class="button" aria-pressed={walk.to_string()} onclick={tap(doing(ScanAction::Walk(!walk)))}>
            { if walk { "✓ Walking: good tags are noted, no tap needed" } else { "Walk from tag to tag without a tap" } }
        </button>
    }
}

/// How many that are left are named.
const NAMED: usize = 4;

/// What is left on a walk, above the picture, where it is in view.
fn left(model: &Model, open: &OpenJob) -> Html {
    let registry = open.journal.registry();
    let at = stand_words(registry, stand(model));
    let here = left_here(registry, stand(model));
    let count = here.unseen.len();
    let words = if at.is_empty() {
        "Say below where you stand: then what is left there is counted here.".to_owned()
    } else if here.tagged == 0 {
        format!("No cable has a tag at {at} yet.")
    } else if count == 0 {
        format!("All {} tags at {at} are seen.", here.tagged)
    } else {
        let next = &here.unseen[..count.min(NAMED)];
        let next = names::listed(next);
        format!("{count} of {} left at {at}. Next: {next}.", here.tagged)
    };
    markup! { <p class="lead walk-left" role="status">{ words }</p> }
}

fn passed(all: &[Passed]) -> Html {
    if all.is_empty() {
        return markup! {};
    }
    let good = all.iter().filter(|one| one.good && !one.place).count();
    let bad = all.iter().filter(|one| !one.good).count();
    markup! {
        <section aria-labelledby="scan-passed">
            <h2 id="scan-passed">{ format!("On this walk: {good} good, {bad} to look at") }</h2>
            <ul class="known" aria-live="polite">{ for all.iter().map(|one| {
                let shape = if one.good { Shape::Full } else { Shape::Alarm };
                markup! { <li>{ state(shape, one.words.clone()) }</li> }
            }) }</ul>
        </section>
    }
}
