//! What stands round every screen: where you are, whether it is saved, what was just done, and the
//! bar that leads to the five sections.

use yew::{Html, classes, html};

use super::Ui;
use super::parts::{Tone, button};
use crate::app::ports::Trouble;
use crate::app::{Action, Model, Notice, Saved, Screen, Section, TakeOut, Theme};
use crate::command::{Refusal, Want};

/// One screen, ready to be framed.
pub(super) struct Page {
    /// The heading: where you are.
    pub title: Html,
    /// What stands above it, smaller: the job, the room.
    pub above: String,
    /// Where the way back leads.
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
            title: html! { { title } },
            above: String::new(),
            back: None,
            body: html! {},
            actions: html! {},
        }
    }
}

/// Frames a screen of the open job.
pub(super) fn framed(ui: &Ui, model: &Model, page: Page) -> Html {
    let section = model.screen().map(Screen::section);
    html! {
        <div class={root_classes(model)}>
            <header class="top">
                <div class="top-row">
                    <p class="above">{ page.above }</p>
                    { saved(ui, model) }
                </div>
                <h1 id="heading" tabindex="-1">{ page.title }</h1>
            </header>
            <main id="main" class="page">{ page.body }</main>
            <div class="bottom">
                { notice(ui, model) }
                <div class="actions">{ page.actions }</div>
                <nav class="sections" aria-label="Sections">
                    { back(ui, page.back) }
                    { for Section::ALL.iter().map(|to| section_link(ui, *to, section == Some(*to))) }
                </nav>
            </div>
        </div>
    }
}

/// Frames a screen outside any job.
pub(super) fn plain(ui: &Ui, model: &Model, page: Page) -> Html {
    html! {
        <div class={root_classes(model)}>
            <header class="top">
                <div class="top-row"><p class="above">{ page.above }</p></div>
                <h1 id="heading" tabindex="-1">{ page.title }</h1>
            </header>
            <main id="main" class="page">{ page.body }</main>
            <div class="bottom">
                { notice(ui, model) }
                <div class="actions">{ page.actions }</div>
            </div>
        </div>
    }
}

/// What is shown until the job is read.
pub(super) fn waiting(ui: &Ui, model: &Model) -> Html {
    let mut page = Page::new("Opening the job …");
    page.actions = button(ui, "All jobs", Action::GoToJobs, Tone::Quiet);
    plain(ui, model, page)
}

fn root_classes(model: &Model) -> yew::Classes {
    classes!(
        "app",
        match model.theme {
            Theme::Day => "day",
            Theme::Cellar => "cellar",
        }
    )
}

fn back(ui: &Ui, to: Option<Screen>) -> Html {
    match to {
        None => html! {},
        Some(screen) => html! {
            <button type="button" class="section back" onclick={ui.go(screen)}>
                <span class="section-mark" aria-hidden="true">{ "‹" }</span>{ "Back" }
            </button>
        },
    }
}

fn section_link(ui: &Ui, to: Section, here: bool) -> Html {
    let (mark, word) = match to {
        Section::Wall => ("▤", "Wall"),
        Section::Rack => ("▥", "Rack"),
        Section::Find => ("⌕", "Find"),
        Section::Punch => ("☐", "Punch list"),
        Section::Job => ("⌂", "Job"),
    };
    html! {
        <button type="button" class="section" aria-current={here.then_some("page")} onclick={ui.go(to.screen())}>
            <span class="section-mark" aria-hidden="true">{ mark }</span>{ word }
        </button>
    }
}

fn saved(ui: &Ui, model: &Model) -> Html {
    let (class, words) = match model.saving.state() {
        Saved::Untouched => ("saved", String::new()),
        Saved::Saving => ("saved", "Saving …".to_owned()),
        Saved::Saved => ("saved", "✓ Saved".to_owned()),
        Saved::Failed(_) => ("saved failed", "✗ Not saved".to_owned()),
    };
    let again = matches!(model.saving.state(), Saved::Failed(_));
    html! {
        <p class={class} role="status" id="saved">
            { words }
            if again {
                <button type="button" class="small" onclick={ui.tap(Action::SaveAgain)}>{ "Try again" }</button>
            }
        </p>
    }
}

/// What was just done, or was not, with the ways on from there.
fn notice(ui: &Ui, model: &Model) -> Html {
    let failed = match model.saving.state() {
        Saved::Failed(trouble) => storage_trouble(ui, &trouble),
        Saved::Untouched | Saved::Saving | Saved::Saved => html! {},
    };
    let told = match &model.notice {
        None => html! {},
        Some(Notice::Done { words, act }) => html! {
            <div class="notice done">
                <p><span aria-hidden="true">{ "✓ " }</span>{ words }</p>
                <button type="button" class="small" onclick={ui.tap(undo(*act))}>{ "Undo" }</button>
                { dismiss(ui) }
            </div>
        },
        Some(Notice::Told(words)) => html! {
            <div class="notice told"><p>{ words }</p>{ dismiss(ui) }</div>
        },
        Some(Notice::Refused(refusal)) => refused(ui, refusal),
        Some(Notice::Trouble(trouble)) => html! {
            <div class="notice refused"><p><b aria-hidden="true">{ "! " }</b>{ trouble.to_string() }</p>{ dismiss(ui) }</div>
        },
    };
    html! { <div class="notices" role="status" aria-live="polite">{ failed }{ told }</div> }
}

fn undo(act: crate::domain::ids::ActId) -> Action {
    Action::Do {
        want: Want::Undo { act },
        then: None,
    }
}

fn dismiss(ui: &Ui) -> Html {
    html! {
        <button type="button" class="small plain" aria-label="Put this message away" onclick={ui.tap(Action::DismissNotice)}>{ "✕" }</button>
    }
}

fn refused(ui: &Ui, refusal: &Refusal) -> Html {
    html! {
        <div class="notice refused">
            <p><b aria-hidden="true">{ "! " }</b>{ &refusal.words }</p>
            { dismiss(ui) }
            { for refusal.ways_out.iter().map(|way| {
                let action = Action::Do { want: (*way.want).clone(), then: None };
                button(ui, way.label.clone(), action, Tone::Way)
            }) }
        </div>
    }
}

fn storage_trouble(ui: &Ui, trouble: &Trouble) -> Html {
    html! {
        <div class="notice refused">
            <p><b aria-hidden="true">{ "! " }</b>{ "Not saved. " }{ trouble.to_string() }</p>
            { button(ui, "Try again", Action::SaveAgain, Tone::Way) }
            { button(ui, "Take the whole job out as a file", Action::TakeOut(TakeOut::JobFile), Tone::Way) }
        </div>
    }
}
