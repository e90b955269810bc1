//! The pull: which box gives which cable, what goes out together, and the same on paper.

use crate::app::wall::{WallForm, open_row};
use crate::app::{Action, Field, FootageOf, Form, Model, OpenJob, Screen};
use crate::command::Want;
use crate::domain::ids::CableId;
use crate::domain::medium::Medium;
use crate::domain::place::Side;
use crate::domain::work::PullOutcome;
use crate::names;
use crate::query::deeds::{outcome_words, who};
use crate::query::pull::{self, Bundle, CalledAlike, Dealt, NoBox, Pulls, Strand};
use crate::ui::frame::{Page, framed};
use crate::ui::parts::medium::medium_fields;
use crate::ui::parts::{Shape, Tone, button, code, empty, number_field, page_of, state};
use crate::ui::wording::ends::OUTCOMES;
use crate::ui::{Html, sending, tap};
use crate::view::{classes, markup, when};

/// How many bundles a screen or a sheet holds, of at most eight boxes as people pull them.
const BUNDLES: usize = 6;

/// How many rings are drawn on a cable at most. From memory: above that nobody counts them rightly.
const MOST_RINGS: u16 = 5;

/// Draws the pull.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob) -> Html {
    let pulls = pull::pulls(open.journal.registry());
    let mut page = Page::new("The pull");
    page.above = open.name().to_owned();
    page.back = Some(Screen::Wall);
    let is_idle = pulls.next.is_empty() && pulls.in_hand.is_empty();
    page.body = markup! {
        <>
            <p class="lead">{ left_words(&pulls, open.journal.registry().cables.is_empty()) }</p>
            { for pulls.in_hand.iter().take(BUNDLES).map(|dealt| in_hand(model, open, dealt)) }
            { trouble(&pulls.trouble) }
            if is_idle && !pulls.no_box.is_empty() {
                { empty("Say below which boxes stand here and what they hold. Then the cables are dealt to them.", markup! {}) }
            }
            { for pulls.next.iter().take(BUNDLES).enumerate().map(|(place, bundle)| next(place, bundle, &pulls.in_hand)) }
            { more(pulls.next.len().saturating_sub(BUNDLES)) }
            { no_box(&pulls.no_box, 6) }
            if pulls.no_box.iter().any(|missing| missing.medium.contains(" and ")) {
                <p class="hint">{ "Cables that share a jacket come from a box of that jacket. Keep such a box below as “Something else”, with the words that stand here." }</p>
            }
            { alike(&pulls.alike) }
            { waiting(&pulls.waiting) }
            { boxes(model, &pulls) }
            if !to_print(&pulls).is_empty() || !pulls.no_box.is_empty() {
                { button("Pull sheet to print", Action::Go(Screen::PullSheet), Tone::Quiet) }
            }
        </>
    };
    page.actions = main_action(&pulls);
    framed(model, page)
}

fn left_words(pulls: &Pulls, is_empty: bool) -> String {
    match (pulls.left(), pulls.next.len()) {
        (0, _) if !pulls.waiting.is_empty() => {
            "Every cable is pulled but those to outlets that wait.".to_owned()
        }
        (0, _) if is_empty => {
            "This job has no cable yet. The outlets bring theirs: Wall, then a room.".to_owned()
        }
        (0, _) => "Every cable is pulled.".to_owned(),
        (1, _) => "1 cable is still to be pulled.".to_owned(),
        (left, 0) => format!("{left} cables are still to be pulled."),
        (left, 1) => format!("{left} cables are still to be pulled, 1 bundle to be dealt."),
        (left, bundles) => {
            format!("{left} cables are still to be pulled, {bundles} bundles to be dealt.")
        }
    }
}

/// What comes next: the bundle in hand is pulled, or the next one is dealt.
fn main_action(pulls: &Pulls) -> Html {
    let open = pulls.in_hand.iter().map(Dealt::unpulled);
    if let Some(cables) = open.into_iter().find(|cables| !cables.is_empty()) {
        let label = format!("All pulled ({})", cables.len());
        return button(label, report(cables, PullOutcome::Pulled), Tone::Main);
    }
    match pulls.next.first() {
        Some(bundle) => button(
            format!("Deal to {}", boxes_words(bundle)),
            deal(bundle),
            Tone::Main,
        ),
        None => markup! {},
    }
}

fn report(cables: Vec<CableId>, outcome: PullOutcome) -> Action {
    let want = Want::ReportPull { cables, outcome };
    Action::Do { want, then: None }
}

fn deal(bundle: &Bundle) -> Action {
    let deals = bundle.deals();
    let want = Want::DealBoxes { deals };
    // What is in hand stands at the top.
    let then = Some(Screen::Pull);
    Action::Do { want, then }
}

/// The boxes of a bundle: `box 3`, `boxes 1, 2 and 4`.
fn boxes_words(bundle: &Bundle) -> String {
    let numbers: Vec<String> = bundle
        .strands
        .iter()
        .map(|strand| strand.box_number.to_string())
        .collect();
    let word = if numbers.len() == 1 { "box" } else { "boxes" };
    format!("{word} {}", names::listed(&numbers))
}

fn way(bundle: &Bundle) -> String {
    let rooms = bundle.rooms.join(", ");
    if bundle.from == names::NO_RACK {
        return rooms + ", no rack chosen yet";
    }
    [&bundle.from, " to ", &rooms].concat()
}

fn in_hand(model: &Model, open: &OpenJob, dealt: &Dealt) -> Html {
    let of = dealt.bundle.strands.len();
    let first = dealt.bundle.strands.first();
    let first = first.and_then(|strand| strand.cables.first()).copied();
    let marks = |side, words: &str| {
        let label = format!("{words}: {} of {of}", dealt.read(side));
        let of = FootageOf::Bundle(first?);
        Some(button(
            label,
            Action::Go(Screen::Footage { of, side }),
            Tone::Quiet,
        ))
    };
    let opened = open_row(model);
    markup! {
        <section class="card">
            <h2>{ format!("In hand: {}", way(&dealt.bundle)) }</h2>
            <p class="hint">{ format!("Dealt by {}. Write the code at both ends. Until then, mark each cable with its box: 2 rings for box 2; above box {MOST_RINGS}, write the number.", who(&open.journal, dealt.act)) }</p>
            <ul class="rows">
                { for dealt.bundle.strands.iter().map(|strand| {
                    let is_open = opened.is_some_and(|cable| strand.cables.contains(&cable));
                    in_hand_row(strand, is_open)
                }) }
            </ul>
            <div class="actions-pair">
                { marks(Side::Near, "Marks at the wall").unwrap_or_default() }
                { marks(Side::Far, "Marks at the other end").unwrap_or_default() }
            </div>
            if dealt.unpulled().is_empty() {
                { for dealt.outlets.iter().map(|outlet| {
                    let label = format!("Mark at {}", names::outlet(open.journal.registry(), *outlet));
                    button(label, Action::Go(Screen::Outlet(*outlet)), Tone::Quiet)
                }) }
            }
        </section>
    }
}

fn in_hand_row(strand: &Strand, is_open: bool) -> Html {
    let Some(first) = strand.cables.first() else {
        return markup! {};
    };
    let open = Action::Submit(Form::Wall(WallForm::OpenRow(*first)));
    let note = match strand.outcome {
        None => "›".to_owned(),
        Some(PullOutcome::Pulled) => "● pulled".to_owned(),
        Some(outcome) => format!("▲ {}", outcome_words(outcome)),
    };
    markup! {
        <li class="row" key={first.0.to_string()}>
            <button type="button" class="row-button" aria-expanded={is_open.to_string()} onclick={tap(open)}>
                <span class="row-lead box-number">{ strand.box_number.to_string() }</span>
                <span class="row-text">{ code(strand.codes.join(" ")) }<br />{ format!("{}, {}", strand.to, strand.medium) }{ twice_dealt(strand) }</span>
                <span class="row-note">{ note }</span>
            </button>
            if is_open {
                <div class="wall-grid">
                    { for OUTCOMES.into_iter().map(|(outcome, words)| {
                        button(words, report(strand.cables.clone(), outcome), Tone::Quiet)
                    }) }
                </div>
            }
        </li>
    }
}

/// What two people say who dealt a strand without knowing of each other.
fn twice_dealt(strand: &Strand) -> Html {
    if strand.or_boxes.is_empty() {
        return markup! {};
    }
    let boxes = std::iter::once(&strand.box_number).chain(&strand.or_boxes);
    let boxes: Vec<String> = boxes.map(ToString::to_string).collect();
    let words = format!(
        "box {}? People disagree: see the punch list",
        boxes.join(" or ")
    );
    markup! { <><br />{ state(Shape::Alarm, words) }</> }
}

/// How many more there are than those that are shown.
fn more(count: usize) -> Html {
    if count == 0 {
        return markup! {};
    }
    markup! { <p class="hint">{ format!("And {count} more after these.") }</p> }
}

/// What went wrong, however long ago it was dealt.
fn trouble(strands: &[Strand]) -> Html {
    if strands.is_empty() {
        return markup! {};
    }
    let line = |strand: &Strand| {
        let (Some(cable), Some(outcome)) = (strand.cables.first(), strand.outcome) else {
            return markup! {};
        };
        let name = names::listed(&strand.codes);
        let are = if strand.codes.len() == 1 { "is" } else { "are" };
        let how = outcome_words(outcome);
        let again = Want::Repull {
            cable: *cable,
            reason: how.to_owned(),
        };
        let again = Action::Do {
            want: again,
            then: None,
        };
        markup! {
            <li class="row">
                <p class="deed-words">{ code(name.clone()) }{ format!(" ▲ {how}. {}, {}", strand.to, strand.medium) }</p>
                <div class="actions-pair">
                    { button(format!("Pull {name} again"), again, Tone::Quiet) }
                    { button(format!("{name} {are} pulled after all"), report(strand.cables.clone(), PullOutcome::Pulled), Tone::Quiet) }
                </div>
            </li>
        }
    };
    markup! {
        <section class="card" aria-labelledby="trouble">
            <h2 id="trouble">{ "In trouble" }</h2>
            <ul class="rows">{ for page_of(strands, 0).iter().map(line) }</ul>
            { more(strands.len() - page_of(strands, 0).len()) }
        </section>
    }
}

fn next(place: usize, bundle: &Bundle, in_hand: &[Dealt]) -> Html {
    let busy: Vec<String> = pull::busy(bundle, in_hand)
        .into_iter()
        .map(|(number, codes)| format!("box {number} with {}", codes.join(" ")))
        .collect();
    markup! {
        <section class="card">
            <h2>{ format!("Bundle {}: {}", place + 1, way(bundle)) }</h2>
            <ul class="known">{ for bundle.strands.iter().map(|strand| markup! {
                <li>{ format!("Box {}: ", strand.box_number) }{ code(strand.codes.join(" ")) }{ format!(" {}", strand.medium) }</li>
            }) }</ul>
            if !busy.is_empty() {
                <p>{ state(Shape::Alarm, format!("Still out: {}. Two tails would bear the same rings: pull that bundle first.", busy.join(", "))) }</p>
            }
            { button(format!("Deal to {}", boxes_words(bundle)), deal(bundle), Tone::Quiet) }
        </section>
    }
}

/// What no box gives, with so many codes of each medium.
fn no_box(missing: &[NoBox], most: usize) -> Html {
    listed(
        "No box here holds",
        missing.iter().map(|missing| {
            let more = match missing.codes.len().saturating_sub(most) {
                0 => String::new(),
                more => format!(" and {more} more"),
            };
            let shown = missing.codes.iter().take(most);
            let codes: Vec<&str> = shown.map(String::as_str).collect();
            format!("{}: {}{more}", missing.medium, codes.join(", "))
        }),
    )
}

/// Codes that are to be told apart on the punch list, before any bundle takes their cables.
fn alike(codes: &[CalledAlike]) -> Html {
    if codes.is_empty() {
        return markup! {};
    }
    let line = |of: &CalledAlike| {
        let count = of.cables.to_string();
        [
            &count,
            " cables are called ",
            &of.code,
            ": tell them apart first",
        ]
        .concat()
    };
    markup! {
        <>
            { listed("No bundle takes these yet", page_of(codes, 0).iter().map(line)) }
            { button("To the punch list", Action::Go(Screen::Punch), Tone::Quiet) }
        </>
    }
}

fn waiting(outlets: &[String]) -> Html {
    listed(
        "Nothing is pulled to these yet",
        page_of(outlets, 0).iter().cloned(),
    )
}

fn listed(title: &'static str, lines: impl ExactSizeIterator<Item = String>) -> Html {
    if lines.len() == 0 {
        return markup! {};
    }
    markup! { <><h2>{ title }</h2><ul class="known">{ for lines.map(|line| markup! { <li>{ line }</li> }) }</ul></> }
}

fn boxes(model: &Model, pulls: &Pulls) -> Html {
    let gone = |number: u16| Action::Do {
        want: Want::HoldBox {
            number,
            medium: None,
        },
        then: None,
    };
    let line = |(number, holds): &(u16, Medium)| {
        markup! {
            <li class="row deed">
                <p class="deed-words">{ format!("Box {number}: {holds}") }</p>
                <button type="button" class="small" aria-label={format!("Box {number} is gone")} onclick={tap(gone(*number))}>{ "Gone" }</button>
            </li>
        }
    };
    markup! {
        <section class="card" aria-labelledby="boxes">
            <h2 id="boxes">{ "Boxes on site" }</h2>
            <ul class="rows">{ for page_of(&pulls.boxes, 0).iter().map(line) }</ul>
            <form onsubmit={sending(Form::HoldBox)}>
                { number_field(model, Field::BoxNumber, "Number on the box", "") }
                { medium_fields(model) }
                <button type="submit" class="button">{ "Keep this box" }</button>
            </form>
        </section>
    }
}

/// What a sheet has a line for: the bundles in hand that are not pulled, and those that go next.
fn to_print(pulls: &Pulls) -> Vec<&Bundle> {
    let in_hand = pulls
        .in_hand
        .iter()
        .filter(|dealt| !dealt.unpulled().is_empty());
    in_hand
        .map(|dealt| &dealt.bundle)
        .chain(&pulls.next)
        .collect()
}

/// Draws the sheets: what is in hand and what goes next, with room to write, and what no box gives. One
/// is seen at a time; all of them go on paper.
pub(in crate::ui) fn sheet(model: &Model, open: &OpenJob) -> Html {
    let pulls = pull::pulls(open.journal.registry());
    let bundles = to_print(&pulls);
    let sheets: Vec<&[&Bundle]> = bundles.chunks(BUNDLES).collect();
    let mut page = Page::new("Pull sheet");
    page.above = format!("{}, {}", open.name(), names::day(model.now));
    page.back = Some(Screen::Pull);
    let is_empty = bundles.is_empty() && pulls.no_box.is_empty();
    page.body = if is_empty {
        empty(
            "Nothing is left to print: every cable that a box here holds is pulled.",
            button("To the pull", Action::Go(Screen::Pull), Tone::Quiet),
        )
    } else {
        markup! {
            <>
                { key(&pulls.boxes) }
                { for sheets.iter().enumerate().map(|(place, bundles)| one_sheet(model.page, place, sheets.len(), bundles)) }
                if sheets.len() > 1 {
                    { sheet_pager(model.page, sheets.len()) }
                }
                { no_box(&pulls.no_box, usize::MAX) }
            </>
        }
    };
    if !is_empty {
        page.actions = button("Print", Action::Print, Tone::Main);
    }
    framed(model, page)
}

fn one_sheet(page: usize, place: usize, sheets: usize, bundles: &[&Bundle]) -> Html {
    let class = when(place != page, "paper-only");
    markup! {
        <section class={classes([class])}>
            <p class="hint">{ format!("Sheet {} of {sheets}", place + 1) }</p>
            { for bundles.iter().map(|bundle| table(bundle)) }
        </section>
    }
}

/// What the boxes hold, and how their cables are told apart until they bear their codes.
fn key(boxes: &[(u16, Medium)]) -> Html {
    if boxes.is_empty() {
        return markup! { <p class="lead">{ "No box is at hand: say on the screen of the pull which boxes stand here and what they hold." }</p> };
    }
    let line = |(number, holds): &(u16, Medium)| {
        let rings = match *number {
            1 => "1 ring".to_owned(),
            2..=MOST_RINGS => format!("{number} rings"),
            _ => "write the number, rings would be too many".to_owned(),
        };
        format!("Box {number}: {holds}, {rings}")
    };
    // The colours of the pens: common practice, no source.
    markup! {
        <>
            { listed("Boxes", page_of(boxes, 0).iter().map(line)) }
            <p class="hint">{ "Pen: black on a light jacket, silver on a dark one. Twice at each end, and once more behind where it will be cut." }</p>
        </>
    }
}

fn sheet_pager(page: usize, sheets: usize) -> Html {
    markup! {
        <div class="actions-pair">
            if page > 0 {
                { button("‹ Sheet before", Action::Page(page - 1), Tone::Quiet) }
            }
            if page + 1 < sheets {
                { button("Next sheet ›", Action::Page(page + 1), Tone::Quiet) }
            }
        </div>
    }
}

fn table(bundle: &Bundle) -> Html {
    markup! {
        <table class="sheet">
            <caption>{ way(bundle) }</caption>
            <thead><tr>
                { for ["Box", "Code", "To"].into_iter().map(|word| markup! { <th scope="col">{ word }</th> }) }
                { for ["Wall mark", "Start mark", "Done"].into_iter().map(|word| markup! { <th scope="col" class="by-hand">{ word }</th> }) }
            </tr></thead>
            <tbody>{ for bundle.strands.iter().map(|strand| {
                let mark = |side: usize| strand.footage[side].map(|mark| mark.to_string()).unwrap_or_default();
                markup! {
                    <tr>
                        <td class="box-number">{ strand.box_number.to_string() }</td>
                        <td>{ code(strand.codes.join(" ")) }</td>
                        <td>{ format!("{}, {}", strand.to, strand.medium) }</td>
                        { for [mark(0), mark(1), "☐".to_owned()].into_iter().map(|words| markup! { <td class="by-hand">{ words }</td> }) }
                    </tr>
                }
            }) }</tbody>
        </table>
    }
}
