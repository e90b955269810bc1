//! The punch list: what stands between the job and the next gate, each with what mends it.

use crate::app::mend::{
    Fix, Mending, Step, clocks, describe_item, heading, health, reminder, stale_strips, walls,
};
use crate::app::{Action, Caution, Field, Model, OpenJob, Screen, settled};
use crate::query::{Gate, Item, begin_with, due_at};
use crate::ui::frame::{Page, framed};
use crate::ui::parts::caution::caution;
use crate::ui::parts::{PAGE_ROWS, Tone, button, empty, page_of, pager};
use crate::ui::{Html, tap};
use crate::view::markup;

const GATES: [Gate; 5] = [
    Gate::Now,
    Gate::BeforePull,
    Gate::BeforeBoard,
    Gate::BeforeTrim,
    Gate::BeforeHandover,
];

/// Draws the punch list.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob) -> Html {
    let all = open.punch_list();
    let gate = chosen(model, all);
    let mut due = due_at(all, gate);
    if let Some(cable) = settled(model) {
        begin_with(&mut due, cable);
    }
    let walls = (gate == Gate::BeforeBoard).then(|| walls(open)).flatten();
    let unwell: Vec<Mending> = health(&open.journal)
        .into_iter()
        .chain(clocks(model))
        .chain(reminder(model))
        .collect();
    let strips = stale_strips(&open.journal);
    let is_strips_due = gate == Gate::BeforeHandover && !strips.is_empty();
    let mut page = Page::new("Punch list");
    page.above = open.name().to_owned();
    page.body = markup! {
        <>
            { choose(open, gate, strips.len()) }
            { caution(model, Caution::Punch) }
            if due.is_empty() && unwell.is_empty() && walls.is_none() && !is_strips_due {
                { if open.journal.registry().rooms.is_empty() { nothing_planned() } else { nothing(gate) } }
            } else {
                if model.page == 0 && !unwell.is_empty() {
                    <h2 class="punch-gate">{ "The records" }</h2>
                    <ul class="punch">{ for unwell.iter().map(item) }</ul>
                }
                if let Some(walls) = walls.filter(|_| model.page == 0) {
                    <h2 class="punch-gate">{ "The walls" }</h2>
                    <ul class="punch">{ item(&walls) }</ul>
                }
                { list(open, page_of(&due, model.page)) }
                if is_strips_due && (model.page + 1) * PAGE_ROWS >= due.len() {
                    <h2 class="punch-gate">{ "Panel strips" }</h2>
                    <ul class="punch">{ for page_of(&strips, 0).iter().map(item) }</ul>
                }
                { pager(model.page, due.len()) }
            }
        </>
    };
    framed(model, page)
}

/// The gate that was chosen; else the first one at which something is due.
fn chosen(model: &Model, all: &[Item]) -> Gate {
    let text = model.fields.get(Field::Gate);
    let gate = GATES.into_iter().find(|gate| key(*gate) == text);
    let first = || all.iter().map(|item| item.gate).min();
    gate.or_else(first).unwrap_or(Gate::BeforeHandover)
}

fn key(gate: Gate) -> &'static str {
    match gate {
        Gate::Now => "now",
        Gate::BeforePull => "pull",
        Gate::BeforeBoard => "board",
        Gate::BeforeTrim => "trim",
        Gate::BeforeHandover => "handover",
    }
}

fn words(gate: Gate) -> &'static str {
    match gate {
        Gate::Now => "Now",
        Gate::BeforePull => "Before the pull",
        Gate::BeforeBoard => "Before the board",
        Gate::BeforeTrim => "Before the trim",
        Gate::BeforeHandover => "Before the handover",
    }
}

/// The gates, each with how much is due at it and before it; the walls before the board, strips before the last. What
/// is due now has a button while there is any.
fn choose(open: &OpenJob, chosen: Gate, strips: usize) -> Html {
    let all = open.punch_list();
    let shown = GATES.map(|gate| {
        let due = all.iter().filter(|item| item.gate <= gate).count();
        let more = match gate {
            Gate::BeforeBoard => open.uncovered(),
            Gate::BeforeHandover => strips,
            Gate::Now | Gate::BeforePull | Gate::BeforeTrim => 0,
        };
        (gate, due + more)
    });
    let shown = shown
        .into_iter()
        .filter(|(gate, due)| *gate != Gate::Now || *due > 0 || *gate == chosen);
    markup! {
        <>
            <div class="gates" role="group" aria-label="The next gate">
                { for shown.map(|(gate, due)| {
                    let action = Action::Typed { field: Field::Gate, text: key(gate).to_owned() };
                    markup! {
                        <button type="button" class="gate" aria-pressed={(gate == chosen).to_string()} onclick={tap(action)}>
                            <span>{ words(gate) }</span><b>{ due }</b>
                        </button>
                    }
                }) }
            </div>
            <p>{ "Each number counts what was due earlier too." }</p>
        </>
    }
}

fn nothing_planned() -> Html {
    empty(
        "Nothing is planned yet. Add the rooms first.",
        button("Rooms", Action::Go(Screen::Rooms), Tone::Quiet),
    )
}

fn nothing(gate: Gate) -> Html {
    let said = match gate {
        Gate::Now => "Nothing contradicts anything now.",
        Gate::BeforePull => "Nothing stands in the way of the pull.",
        Gate::BeforeBoard => "Nothing stands in the way of the board: the walls may be closed.",
        Gate::BeforeTrim => "Nothing stands in the way of the trim.",
        Gate::BeforeHandover => "Nothing is left to do: the job can be handed over.",
    };
    empty(
        said,
        button("What was done", Action::Go(Screen::History), Tone::Quiet),
    )
}

/// The items with a heading wherever gate or outlet change.
fn list(open: &OpenJob, shown: &[(Gate, &Item)]) -> Html {
    let groups = shown.chunk_by(|(one, a), (other, b)| (one, a.outlet) == (other, b.outlet));
    let mut last = None;
    let groups = groups.map(|group| {
        let (gate, outlet) = (group[0].0, group[0].1.outlet);
        let new_gate = last != Some(gate);
        last = Some(gate);
        markup! {
            <>
                if new_gate {
                    <h2 class="punch-gate">{ words(gate) }</h2>
                }
                if let Some(outlet) = outlet {
                    <h3 class="punch-outlet">{ heading(&open.journal, outlet) }</h3>
                }
                <ul class="punch">
                    { for group.iter().map(|(_, of)| item(&describe_item(&open.journal, of))) }
                </ul>
            </>
        }
    });
    markup! { <>{ for groups }</> }
}

fn item(mending: &Mending) -> Html {
    markup! {
        <li class="punch-item">
            <p class="punch-title">{ &mending.title }</p>
            { for mending.detail.iter().map(|words| markup! { <p class="punch-detail">{ words }</p> }) }
            <div class="punch-fixes">{ for mending.fixes.iter().map(fix) }</div>
        </li>
    }
}

fn fix(to: &Fix) -> Html {
    let action = match &to.step {
        Step::Do(want) => Action::Do {
            want: want.clone(),
            then: None,
        },
        Step::Go(screen) => Action::Go(*screen),
    };
    let class = match to.step {
        Step::Do(_) => "button mend",
        Step::Go(_) => "button mend way-there",
    };
    markup! { <button type="button" class={class} onclick={tap(action)}>{ &to.label }</button> }
}
