//! What stands round every screen: where you are, whether it is saved, what was just done, and the
//! bar that leads to the five sections.

use super::parts::{Tone, button};
use super::screens::scanned::{actions, answered};
use crate::app::ports::Trouble;
use crate::app::{
    Action, Model, Notice, Opening, PictureAction, Question, Saved, Screen, Section, TakeOut,
    Theme, signing_from,
};
use crate::command::{Refusal, Want};
use crate::domain::place::Face;
use crate::ui::{Html, go, tap};
use crate::view::{Words, classes, markup};

/// One screen, ready to be framed.
pub(super) struct Page {
    /// The heading: where you are.
    pub title: Html,
    /// What stands above it, smaller: the job, the room.
    pub above: String,
    /// Where the way back leads for whoever came from nowhere in the app.
    pub back: Option<Screen>,
    /// The screen itself.
    pub body: Html,
    /// The main actions, at the bottom where the thumb is.
    pub actions: Html,
}

impl Page {
    /// A page with a heading and nothing else yet.
    pub(super) fn new(title: impl Into<String>) -> Self {
        let title: String = title.into();
        Self {
            title: markup! { { title } },
            above: String::new(),
            back: None,
            body: markup! {},
            actions: markup! {},
        }
    }
}

/// Frames a screen of the open job.
pub(super) fn framed(model: &Model, page: Page) -> Html {
    let section = model.screen().map(Screen::section);
    // Whoever scanned goes back to where he scanned from.
    let answer = model.scan.answer_on(model.screen());
    let section = answer.map_or(section, |_| Some(Section::Scan));
    let answered = answer.and(model.scan.from);
    let to = page
        .back
        .or_else(|| signing_from(model))
        .map(|to| answered.map_or(Action::Back(to), Action::Go));
    // Whoever has the cable in the hand wants to know first where it goes.
    let is_in_hand = matches!(model.screen(), Some(Screen::HandCable(_)));
    markup! {
        <div class={root_classes(model)}>
            <header class="top">
                <div class="top-row">
                    <p class="above">{ page.above }</p>
                    { saved(model) }
                </div>
                <h1 id="heading" tabindex="-1">{ page.title }</h1>
                // Behind the heading, which has the focus after each turn: the first thing that Tab meets.
                <button type="button" class="skip" onclick={tap(Action::ToActions)}>{ "Skip to the actions" }</button>
            </header>
            <main id="main" class="page">
                if !is_in_hand {
                    { scanned(model) }
                }
                { page.body }
                if is_in_hand {
                    { scanned(model) }
                }
            </main>
            <div class="bottom">
                { notice(model) }
                <div class="actions" id="actions" role="group" aria-label="Actions" tabindex="-1">{ page_actions(model, page.actions) }</div>
                <nav class="sections" aria-label="Sections">
                    { back(to) }
                    { for Section::ALL.iter().map(|to| section_link(*to, section == Some(*to))) }
                </nav>
            </div>
        </div>
    }
}

/// Frames a screen outside any job.
pub(super) fn plain(model: &Model, page: Page) -> Html {
    markup! {
        <div class={root_classes(model)}>
            <header class="top">
                <div class="top-row"><p class="above">{ page.above }</p></div>
                <h1 id="heading" tabindex="-1">{ page.title }</h1>
            </header>
            <main id="main" class="page">{ page.body }</main>
            <div class="bottom">
                { notice(model) }
                <div class="actions">{ page.actions }</div>
            </div>
        </div>
    }
}

/// What is shown until the job is read.
pub(super) fn waiting(model: &Model) -> Html {
    let mut page = Page::new("Opening the job …");
    if let Some((taken, of)) = model.opening.as_ref().map(Opening::progress) {
        let hundredths = taken * 100 / of.max(1);
        page.body = markup! {
            <div role="status">
                <p class="lead">{ format!("{hundredths} of 100 parts are read.") }</p>
                <progress max="100" value={hundredths.to_string()} aria-label="Records read">{ "" }</progress>
            </div>
        };
    }
    page.actions = button("All jobs", Action::GoToJobs, Tone::Quiet);
    plain(model, page)
}

/// What was scanned, above the screen that shows it.
fn scanned(model: &Model) -> Html {
    let answer = model.scan.answer_on(model.screen());
    match (answer, &model.open) {
        (Some(answer), Some(open)) => answered(model, open, answer),
        _ => markup! {},
    }
}

/// The main actions; where an answer is shown, what is next with what was scanned.
fn page_actions(model: &Model, of_page: Html) -> Html {
    let answer = model.scan.answer_on(model.screen());
    match (answer, &model.open) {
        (Some(answer), Some(open)) => actions(model, open, answer, of_page),
        _ => of_page,
    }
}

fn root_classes(model: &Model) -> Words {
    let theme = match model.theme {
        Theme::Day => "day",
        Theme::Cellar => "cellar",
    };
    classes(["app", theme])
}

fn back(to: Option<Action>) -> Html {
    match to {
        None => markup! {},
        Some(action) => markup! {
            <button type="button" class="section back" onclick={tap(action)}>
                <span class="section-mark" aria-hidden="true">{ "‹" }</span>{ "Back" }
            </button>
        },
    }
}

fn section_link(to: Section, here: bool) -> Html {
    let (mark, word) = match to {
        Section::Wall => ("▤", "Wall"),
        Section::Rack => ("▥", "Rack"),
        Section::Scan => ("▣", "Scan"),
        Section::Find => ("⌕", "Find"),
        Section::Punch => ("☐", "Punch list"),
        Section::Job => ("⌂", "Job"),
    };
    markup! {
        <button type="button" class="section" aria-current={here.then_some("page")} onclick={go(to.screen())}>
            <span class="section-mark" aria-hidden="true">{ mark }</span>{ word }
        </button>
    }
}

fn saved(model: &Model) -> Html {
    let (class, words) = match model.saved() {
        Saved::Untouched => ("saved", String::new()),
        Saved::Saving => match model.pictures.progress() {
            Some((now, of)) if of > 1 => ("saved", format!("Keeping picture {now} of {of} …")),
            _ => ("saved", "Saving …".to_owned()),
        },
        Saved::Saved => ("saved", "✓ Saved".to_owned()),
        Saved::Failed(Trouble::NewerStore) => ("saved failed", "✗ Read only".to_owned()),
        Saved::Failed(_) => ("saved failed", "✗ Not saved".to_owned()),
    };
    let again = matches!(model.saved(), Saved::Failed(trouble) if trouble != Trouble::NewerStore);
    markup! {
        <p class={class} role="status" id="saved">
            { words }
            if again {
                <button type="button" class="small" onclick={tap(Action::SaveAgain)}>{ "Try again" }</button>
            }
        </p>
    }
}

/// What was just done, or was not, with the ways on from there.
fn notice(model: &Model) -> Html {
    let failed = match model.saved() {
        Saved::Failed(trouble) => storage_trouble(model, &trouble),
        Saved::Untouched | Saved::Saving | Saved::Saved => markup! {},
    };
    let is_unsaved = matches!(model.saved(), Saved::Failed(_));
    let unsaved = if is_unsaved { "Not saved yet: " } else { "" };
    let refused_pictures = model.pictures.refused();
    let lost = if refused_pictures.is_empty() {
        markup! {}
    } else {
        let read = Action::Picture(PictureAction::RefusedRead);
        markup! {
            <div class="notice refused">
                <p><b aria-hidden="true">{ "! " }</b>{ "Not kept. " }{ refused_pictures.join(" ") }</p>
                { button("I have read it", read, Tone::Way) }
            </div>
        }
    };
    let told = match &model.notice {
        None => markup! {},
        Some(Notice::Done {
            words,
            act,
            good,
            again,
        }) => markup! {
            <div class={if *good && !is_unsaved { "notice done" } else { "notice told" }} data-once="">
                <p><span aria-hidden="true">{ if *good && !is_unsaved { "✓ " } else { "▲ " } }</span>{ [unsaved, words].concat() }</p>
                <button type="button" class="small" onclick={tap(undo(*act))}>{ if *again { "Do it again" } else { "Undo" } }</button>
                if model.person.initials.is_empty() && !again {
                    <button type="button" class="small" onclick={tap(Action::AddInitials)}>{ "Add your initials" }</button>
                }
                { dismiss() }
            </div>
        },
        Some(Notice::Told(words)) => markup! {
            <div class="notice told"><p>{ words }</p>{ dismiss() }</div>
        },
        Some(Notice::Asked { words, question }) => asked(words, question),
        Some(Notice::Refused(refusal)) => refused(refusal),
        Some(Notice::Trouble(trouble)) => markup! {
            <div class="notice refused">
                <p><b aria-hidden="true">{ "! " }</b>{ trouble.to_string() }</p>
                { dismiss() }
                if let Trouble::Unreadable(_) = trouble {
                    <a class="button way" href="./rescue.html">{ "Take everything out as a file" }</a>
                }
            </div>
        },
    };
    markup! { <div class="notices" id="notices" role="status" aria-live="polite">{ failed }{ lost }{ told }</div> }
}

/// A question that is answered by one button, or put away.
fn asked(words: &str, question: &Question) -> Html {
    let (answer, action) = match question {
        Question::OtherJob(job) => ("Open that job".to_owned(), Action::OpenJob(*job)),
        Question::Leaving => ("Take it off".to_owned(), Action::TakeOff),
        Question::FileFirst => {
            let action = Action::TakeOut(TakeOut::JobFile);
            ("Whole job as a file".to_owned(), action)
        }
        Question::Doubtful(lines) => (doubtful_words(lines.len()), Action::TakeDoubtful),
    };
    let is_choice = matches!(question, Question::OtherJob(_));
    markup! {
        <div class={if is_choice { "notice told" } else { "notice refused" }}>
            <p>
                if !is_choice {
                    <b aria-hidden="true">{ "! " }</b>
                }
                { words.to_owned() }
            </p>
            { dismiss() }
            { button(answer, action, Tone::Way) }
        </div>
    }
}

fn doubtful_words(count: usize) -> String {
    match count {
        1 => "Take in the 1 doubtful line all the same".to_owned(),
        _ => format!("Take in the {count} doubtful lines all the same"),
    }
}

fn undo(act: crate::domain::ids::ActId) -> Action {
    Action::Do {
        want: Want::Undo { act },
        then: None,
    }
}

fn dismiss() -> Html {
    markup! {
        <button type="button" class="small plain" aria-label="Put this message away" onclick={tap(Action::DismissNotice)}>{ "✕" }</button>
    }
}

fn refused(refusal: &Refusal) -> Html {
    markup! {
        <div class="notice refused">
            <p><b aria-hidden="true">{ "! " }</b>{ &refusal.words }</p>
            { dismiss() }
            { for refusal.ways_out.iter().map(|way| {
                let action = Action::Do { want: (*way.want).clone(), then: None };
                button(way.label.clone(), action, Tone::Way)
            }) }
            if let Some(panel) = refusal.see {
                { button("See its positions", Action::Go(Screen::Panel { panel, face: Face::Front }), Tone::Way) }
            }
        </div>
    }
}

fn storage_trouble(model: &Model, trouble: &Trouble) -> Html {
    let is_newer = *trouble == Trouble::NewerStore;
    markup! {
        <div class="notice refused">
            <p><b aria-hidden="true">{ "! " }</b>{ if is_newer { "" } else { "Not saved. " } }{ trouble.to_string() }</p>
            if !is_newer {
                { button("Try again", Action::SaveAgain, Tone::Way) }
            }
            { button("Take the whole job out as a file", Action::TakeOut(TakeOut::JobFile), Tone::Way) }
            if model.pictures.is_in_trouble() {
                { button("Take the picture out as a file", Action::Picture(PictureAction::TakeOut), Tone::Way) }
            }
        </div>
    }
}
