//! The job: what it consists of, who works on it, how far it is, and the ways to take it out.

use crate::app::plan::Planned;
use crate::app::ports::Keeping;
use crate::app::{
    Action, Field, Form, Model, OpenJob, PackAction, Purpose, Screen, TakeOut, Theme, alone,
    alone_words,
};
use crate::domain::length::LengthUnit;
use crate::query::Tally;
use crate::query::plan::{FirstStep, RoomProgress, first_step, progress};
use crate::ui::frame::{Page, framed};
use crate::ui::parts::caution::guide;
use crate::ui::parts::opening::{Face, card, opening, recode_form, rename_form};
use crate::ui::parts::pinout::pinout;
use crate::ui::parts::{Tone, button, code, empty, page_of, pager, row, text_field};
use crate::ui::{Html, sending, tap};
use crate::view::markup;

/// The screens that a job is planned on, with their words and what they are for.
const WAYS: [(Screen, &str); 8] = [
    (Screen::Tags, "Print tags"),
    (Screen::Rooms, "Rooms and floors"),
    (Screen::Types, "Outlet types"),
    (Screen::Racks, "Racks and panels"),
    (Screen::Loose, "Loose ends"),
    (Screen::Import, "Import a schedule"),
    (Screen::Crew, "Phone to phone, by codes"),
    (Screen::History, "History"),
];

/// Draws the job.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob) -> Html {
    let mut page = Page::new(open.name());
    page.above = "Job".to_owned();
    page.body = markup! {
        <>
            <ul class="rows">
                { for WAYS.into_iter().map(|(screen, words)| row(Action::Go(screen), markup! {}, words, "›")) }
            </ul>
            { person(model) }
            { settings(model, open) }
            { take_out(model, open) }
            { room(model) }
            { off() }
            { how_far(model, open) }
            { guide(model) }
        </>
    };
    let first = first_step(open.journal.registry()).map(|step| match step {
        FirstStep::Rooms => ("Add the rooms", Screen::Rooms),
        FirstStep::Outlets => ("Add outlets", Screen::Wall),
    });
    page.actions = markup! {
        <div class="actions-pair">
            { button("All jobs", Action::GoToJobs, Tone::Quiet) }
            { first.map(|(words, screen)| button(words, Action::Go(screen), Tone::Main)) }
        </div>
    };
    framed(model, page)
}

/// How full the storage is, and whether what is there stays.
fn room(model: &Model) -> Html {
    let Some(room) = model.room else {
        return markup! {};
    };
    let share = room.used.saturating_mul(100).checked_div(room.quota);
    let share = share.unwrap_or(0).to_string();
    let words = format!(
        "{} of about {} are used, {share} %.",
        megabytes(room.used),
        megabytes(room.quota)
    );
    let keeping = match room.keeping {
        Keeping::Promised => "The browser promises to keep it all.",
        Keeping::MayBeCleared | Keeping::Unknown => {
            "The browser may clear it when the device runs out of room. Take the job out as a file from time to time, pictures too."
        }
    };
    card(
        "room",
        "Room on this device",
        markup! {
            <>
                <meter max="100" value={share} aria-labelledby="room">{ "" }</meter>
                <p>{ words }</p>
                <p class="hint">{ keeping }</p>
            </>
        },
    )
}

fn off() -> Html {
    card(
        "off",
        "Off this device",
        markup! {
            <>
                <p class="hint">{ "Once it is handed over, or was begun by mistake. Nothing that lies here alone goes." }</p>
                { button("Take this job off this device", Action::AskTakeOff, Tone::Quiet) }
            </>
        },
    )
}

/// Bytes as people say them.
fn megabytes(bytes: u64) -> String {
    match bytes / 1_000_000 {
        0 => "less than 1 MB".to_owned(),
        megabytes @ 1..10_000 => format!("{megabytes} MB"),
        megabytes => format!("{} GB", megabytes / 1000),
    }
}

fn how_far(model: &Model, open: &OpenJob) -> Html {
    let rooms = progress(open.journal.registry());
    let inside = if rooms.is_empty() {
        empty(
            "No cable is planned yet. Add the rooms, then their outlets at the wall.",
            button("Add the rooms", Action::Go(Screen::Rooms), Tone::Quiet),
        )
    } else {
        markup! {
            <>
                <ul class="rows">{ for page_of(&rooms, model.page).iter().map(room_progress) }</ul>
                { pager(model.page, rooms.len()) }
            </>
        }
    };
    markup! {
        <section aria-labelledby="how-far">
            <h2 id="how-far">{ "How far it is" }</h2>
            { inside }
        </section>
    }
}

fn room_progress(room: &RoomProgress) -> Html {
    let Tally {
        cables,
        pulled,
        marked,
        wall_settled,
        rack_settled,
        tested,
    } = room.tally;
    let marked_where = match room.room {
        Some(_) => "marked here",
        None => "marked at both ends",
    };
    let counts = [
        ("pulled", pulled),
        (marked_where, marked),
        ("at the wall", wall_settled),
        ("at the rack", rack_settled),
        ("tested", tested),
    ];
    markup! {
        <li class="row tally">
            <p class="tally-room">
                if !room.code.is_empty() {
                    { code(room.code.clone()) }{ " " }
                }
                { &room.name }
                <span class="tally-of">{ counted(cables) }</span>
            </p>
            <dl class="tally-counts">
                { for counts.into_iter().map(|(word, count)| markup! {
                    <div class={(count == cables).then_some("is-full")}>
                        <dt>{ word }</dt>
                        <dd>
                            <span aria-hidden="true">{ mark(count, cables) }</span>
                            { format!(" {count}") }
                        </dd>
                    </div>
                }) }
            </dl>
        </li>
    }
}

fn counted(cables: usize) -> String {
    match cables {
        1 => "1 cable".to_owned(),
        cables => format!("{cables} cables"),
    }
}

fn mark(count: usize, of: usize) -> &'static str {
    match count {
        count if count == of => "●",
        0 => "○",
        _ => "◐",
    }
}

fn settings(model: &Model, open: &OpenJob) -> Html {
    let name = Face {
        lead: markup! {},
        text: "Name, address on tags".into(),
        note: open.name().to_owned().into(),
    };
    let units = [(LengthUnit::Feet, "Feet"), (LengthUnit::Metres, "Metres")];
    let themes = [
        (Theme::Day, "Day, dark on white"),
        (Theme::Cellar, "Cellar, light on black"),
    ];
    markup! {
        <section aria-labelledby="settings">
            <h2 id="settings">{ "Settings" }</h2>
            <ul class="rows">
                { opening(model, Planned::Job, name, || markup! {
                    <>
                        { rename_form(model, Planned::Job) }
                        { recode_form(model, Planned::Job, "Address on tags", "Such as https://registry.example: it stands before the text in their QR codes. Empty: none.") }
                    </>
                }) }
            </ul>
            { pinout(open) }
            { one_of("Lengths are typed in", units.map(|(unit, words)| (words, model.unit == unit, Action::SetUnit(unit)))) }
            { one_of("Screen", themes.map(|(theme, words)| (words, model.theme == theme, Action::SetTheme(theme)))) }
        </section>
    }
}

/// Two choices side by side, one of which is in force.
fn one_of(label: &'static str, choices: [(&'static str, bool, Action); 2]) -> Html {
    markup! {
        <div class="setting" role="group" aria-label={label}>
            <p class="ask">{ label }</p>
            <div class="wall-grid">
                { for choices.into_iter().map(|(words, pressed, action)| markup! {
                    <button type="button" class="button" aria-pressed={pressed.to_string()} onclick={tap(action)}>
                        if pressed {
                            <span aria-hidden="true">{ "✓ " }</span>
                        }
                        { words }
                    </button>
                }) }
            </div>
        </div>
    }
}

fn person(model: &Model) -> Html {
    card(
        "person",
        "Who works with this device",
        markup! {
            <form onsubmit={sending(Form::Person)}>
                { text_field(model, Field::Initials, "Your initials", "They stand beside everything that you do") }
                { text_field(model, Field::DeviceName, "Name of this device", "") }
                <button type="submit" class="button">{ "Keep" }</button>
            </form>
        },
    )
}

fn take_out(model: &Model, open: &OpenJob) -> Html {
    let alone = match alone(model) {
        0 => "Every record here came in from elsewhere or was put in a file, wherever that lies now. Pictures are not counted.".to_owned(),
        _ => [&alone_words(model), "."].concat(),
    };
    let take = |words: &'static str, what| button(words, Action::TakeOut(what), Tone::Quiet);
    card(
        "take-out",
        "To other phones, and for safety",
        markup! {
            <>
                <p>{ alone }</p>
                { take("Whole job as a file", TakeOut::JobFile) }
                <p class="hint">{ "Everything that was done, for another phone or to keep." }</p>
                { packing(model, open) }
                { button("Open the file of another phone", Action::PickFile(Purpose::JobFile), Tone::Quiet) }
                <p class="hint">{ "You see what would come in before anything does." }</p>
                { take("Schedule for a spreadsheet", TakeOut::Spreadsheet) }
                { take("Schedule, raw", TakeOut::Raw) }
                <p class="hint">{ "Raw keeps every cell exactly as it is, for other programs. Do not open that one in a spreadsheet." }</p>
            </>
        },
    )
}

/// The job with its pictures: they are packed first, and given out from a tap.
fn packing(model: &Model, open: &OpenJob) -> Html {
    let doing = |words: String, action, tone| button(words, Action::Pack(action), tone);
    let packing = model.packing.as_ref();
    let Some(packing) = packing.filter(|packing| packing.is_of(open.journal.job())) else {
        if open.journal.registry().pictures.is_empty() {
            return markup! {};
        }
        let words = "Whole job with its pictures".to_owned();
        return markup! {
            <>
                { doing(words, PackAction::Begin, Tone::Quiet) }
                <p class="hint">{ "In the file above the pictures stay behind." }</p>
            </>
        };
    };
    let (now, of) = packing.progress();
    let elsewhere = match packing.elsewhere() {
        0 => String::new(),
        1 => "1 picture is on another phone and stays there.".to_owned(),
        count => format!("{count} pictures are on other phones and stay there."),
    };
    let step = match packing.ready() {
        None => markup! { <p role="status">{ format!("Packing picture {now} of {of} …") }</p> },
        Some((pictures, bytes)) => {
            let more = if packing.goes_on() {
                ". More follow."
            } else {
                ""
            };
            let words = format!(
                "Give it out with its pictures ({pictures}), {}{more}",
                megabytes(bytes as u64)
            );
            doing(words, PackAction::GiveOut, Tone::Main)
        }
    };
    markup! {
        <>
            { step }
            if !elsewhere.is_empty() {
                <p class="hint">{ elsewhere }</p>
            }
            { doing("Do not pack them".to_owned(), PackAction::Stop, Tone::Quiet) }
        </>
    }
}
