//! Where the cables that have no position yet might land: panel by panel as a picture, to be accepted
//! whole, by panel or one by one, with the reason for each that found none.

use crate::app::{Accept, Action, Form, Model, OpenJob, RackForm, Screen};
use crate::domain::ids::{PanelId, RackId};
use crate::domain::label::PositionNumber;
use crate::domain::place::Face;
use crate::names;
use crate::query::deeds::who;
use crate::query::propose::{LeftOut, Proposed, Why, has_cables, propose};
use crate::query::pull::called_alike;
use crate::query::rack::{SlotState, groups, make, slots};
use crate::ui::frame::{Page, framed};
use crate::ui::parts::panel::{halves, panel as drawing};
use crate::ui::parts::{Tone, button, code, empty, page_of, pager, settle};
use crate::ui::{Html, go, tap};
use crate::view::markup;

/// So many of those that are left out for one reason are named.
const NAMED: usize = 12;

/// Draws the proposal.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob) -> Html {
    let registry = open.journal.registry();
    let proposal = propose(registry);
    let places = proposal.by_panel(registry);
    let mut page = Page::new("Where they might land");
    page.above = "Rack".to_owned();
    page.back = Some(Screen::Rack);
    if places.is_empty() && proposal.left_out.is_empty() {
        page.body = if has_cables(registry) {
            empty(
                "Every home run and every tie line has its position.",
                button("To the rack", Action::Go(Screen::Rack), Tone::Quiet),
            )
        } else {
            empty(
                "This job has no cable yet, so there is none to place. Plan the rooms, and in each its outlets with their cables.",
                button(
                    "Plan rooms and outlets",
                    Action::Go(Screen::Wall),
                    Tone::Quiet,
                ),
            )
        };
        return framed(model, page);
    }
    let shown = page_of(&places, model.page);
    page.body = markup! {
        <>
            <p role="status">{ summary(places.len(), proposal.left_out.len()) }</p>
            { for shown.chunk_by(|a, b| a.position.panel == b.position.panel)
                .map(|shown| one_panel(open, &places, shown)) }
            { pager(model.page, places.len()) }
            { left_out(open, &proposal.left_out) }
        </>
    };
    if !places.is_empty() {
        let words = format!("Accept all {}", places.len());
        page.actions = button(words, accept(Accept::Whole), Tone::Main);
    }
    framed(model, page)
}

fn accept(part: Accept) -> Action {
    Action::Submit(Form::Rack(RackForm::Accept(part)))
}

fn summary(placed: usize, left: usize) -> String {
    let cables = |count: usize| match count {
        1 => "1 cable".to_owned(),
        count => format!("{count} cables"),
    };
    match (placed, left) {
        (0, left) => format!("{} found no position; why stands below.", cables(left)),
        (placed, 0) => format!(
            "{} can have a position. Nothing that is landed or listed moves.",
            cables(placed)
        ),
        (placed, left) => format!(
            "{} can have a position, {left} cannot; why stands below. Nothing that is landed or listed moves.",
            cables(placed)
        ),
    }
}

/// The panel with what is proposed for it framed, and the cables one by one.
fn one_panel(open: &OpenJob, all: &[Proposed], shown: &[Proposed]) -> Html {
    let registry = open.journal.registry();
    let panel = shown[0].position.panel;
    let Some(make) = make(registry, panel) else {
        return markup! {};
    };
    let here: Vec<&Proposed> = all
        .iter()
        .filter(|one| one.position.panel == panel)
        .collect();
    let mut slots = slots(registry, panel);
    let mut new: Vec<PositionNumber> = Vec::new();
    for one in &here {
        let number = one.position.number;
        new.push(number);
        let at = usize::from(number.get()) - 1;
        if let Some(slot) = slots
            .get_mut(at)
            .filter(|slot| slot.state == SlotState::Free)
        {
            slot.planned.push(one.end);
            slot.state = SlotState::Planned;
        }
    }
    let groups = groups(make.positions, Face::Front);
    let name = names::panel(registry, panel);
    let screen = Screen::Panel {
        panel,
        face: Face::Front,
    };
    let whole = accept(Accept::Panel(panel));
    let words = format!("Accept {name} ({})", here.len());
    markup! {
        <section>
            <h2>{ format!("{name}, {}", rack_words(open, panel)) }</h2>
            <figure class="panel-figure">
                { drawing(open, &groups, &slots, Face::Front, &new) }
                <figcaption>{ "From the front; what is proposed is framed." }{ halves(&groups) }</figcaption>
            </figure>
            <div class="actions-pair">
                <button type="button" class="button" onclick={tap(whole)}>{ words }</button>
                <button type="button" class="button" onclick={go(screen)}>{ "See it" }</button>
            </div>
            <ul class="rows">{ for shown.iter().map(|one| proposed(open, one)) }</ul>
        </section>
    }
}

fn rack_words(open: &OpenJob, panel: PanelId) -> String {
    let registry = open.journal.registry();
    let row = registry.panels.get(panel);
    let rack = row.and_then(|row| row.rack.get());
    let rack = rack.map_or_else(String::new, |rack| names::rack(registry, *rack));
    match row.and_then(|row| row.purpose.get()) {
        Some(purpose) if !purpose.is_empty() => format!("{rack}, for {purpose}"),
        Some(_) | None => rack,
    }
}

fn proposed(open: &OpenJob, one: &Proposed) -> Html {
    let registry = open.journal.registry();
    let cable = registry.cables.get(one.end.cable);
    let purpose = cable.and_then(|cable| cable.purpose.get()).cloned();
    let mut note = if one.shared {
        "shares its terminal".to_owned()
    } else {
        String::new()
    };
    // Rows that would read alike say whose cable each is.
    let named = cable.and_then(|cable| cable.name.said());
    if let Some(named) = named.filter(|_| called_alike(registry, one.end.cable).is_some()) {
        let by = who(&open.journal, named.stamp.act);
        note = ["not the only one with this code; this one is by ", &by].concat();
    }
    let position = names::position(registry, one.position);
    let label = names::end_code(registry, one.end);
    markup! {
        <li class="row split-row" key={position.clone()}>
            <div class="row-body">
                <span class="row-lead">{ code(position.clone()) }</span>
                <span class="row-text">{ code(label.clone()) }{ " " }{ purpose.unwrap_or_default() }</span>
                <span class="row-note">{ note }</span>
            </div>
            <button type="button" class="button" aria-label={format!("Accept {label} at {position}")} onclick={tap(accept(Accept::End(one.end)))}>{ "Accept" }</button>
        </li>
    }
}

/// Those that found no position, by reason, each with the next step.
fn left_out(open: &OpenJob, left_out: &[LeftOut]) -> Html {
    if left_out.is_empty() {
        return markup! {};
    }
    let registry = open.journal.registry();
    markup! {
        <section>
            <h2>{ format!("No position for {}", left_out.len()) }</h2>
            { for left_out.chunk_by(|a, b| a.why == b.why).map(|of| {
                let mut listed: Vec<String> = of.iter().take(NAMED).map(|one| names::end_code(registry, one.end)).collect();
                if of.len() > NAMED {
                    listed.push(format!("{} more", of.len() - NAMED));
                }
                markup! {
                    <div class="left-out">
                        <p>{ why_words(open, &of[0].why) }</p>
                        <p class="hint">{ names::listed(&listed) }</p>
                        { next_step(&of[0]) }
                    </div>
                }
            }) }
        </section>
    }
}

fn next_step(left: &LeftOut) -> Html {
    match left.why {
        Why::Disputed => settle(Some(left.end.cable), Tone::Quiet),
        Why::NoMedium => button(
            "Say what it is made of",
            Action::Go(Screen::Cable(left.end.cable)),
            Tone::Quiet,
        ),
        Why::NoPanel(_) => button("Add a panel", Action::Go(Screen::Racks), Tone::Quiet),
        Why::NoConnector { rack, wanted } | Why::Full { rack, wanted, .. } => {
            let connector = wanted;
            button(
                "Add a panel",
                Action::PlanPanel { rack, connector },
                Tone::Quiet,
            )
        }
    }
}

fn why_words(open: &OpenJob, why: &Why) -> String {
    let at = |rack: Option<RackId>| {
        rack.map_or_else(
            || "this job".to_owned(),
            |rack| names::rack(open.journal.registry(), rack),
        )
    };
    match why {
        Why::Disputed => "People disagree where these belong or are.".to_owned(),
        Why::NoMedium => "Nobody said what these are made of.".to_owned(),
        Why::NoPanel(rack) => format!("{} has no panel yet.", at(*rack)),
        Why::NoConnector { rack, wanted } => format!(
            "No panel in {} takes such a cable; it wants {}.",
            at(*rack),
            wanted.words()
        ),
        Why::Full {
            rack,
            wanted,
            taken,
            reserved,
            bad,
        } => {
            let mut words = format!(
                "Every position for {} in {} is spoken for: {taken} taken",
                wanted.words(),
                at(*rack)
            );
            for (count, how) in [(*reserved, "reserved"), (*bad, "bad")] {
                if count > 0 {
                    words.push_str(&format!(", {count} {how}"));
                }
            }
            words.push('.');
            words
        }
    }
}
