//! Pieces that several screens use.

/// The cautions of a phase, shown once.
pub(super) mod caution;
/// A cable as a line between its two ends.
pub(super) mod line;
/// What a cable is made of, to choose.
pub(super) mod medium;
/// A row that opens.
pub(super) mod opening;
/// A panel as it is seen.
pub(super) mod panel;
/// How the jacks of the job are wired.
pub(super) mod pinout;
/// The plate of an outlet with its cables.
pub(super) mod plate;
/// A rack in one line.
pub(super) mod racks;
/// What feeds what, as a line of stations.
pub(super) mod stations;

use crate::app::{Action, Field, Model, Screen};
use crate::domain::ids::CableId;
use crate::ui::{Html, choosing, tap, typing};
use crate::view::{Words, classes, markup, when};

/// How much weight a button has.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Tone {
    /// The one main action of a screen: full width, 64 px.
    Main,
    /// Another action.
    Quiet,
    /// A way out of a refusal.
    Way,
}

/// A button that sends an action.
pub(super) fn button(label: impl Into<Words>, action: Action, tone: Tone) -> Html {
    let class = match tone {
        Tone::Main => "button main",
        Tone::Quiet => "button",
        Tone::Way => "button way",
    };
    // The main button changes its meaning under the thumb as the work goes on.
    let once = (tone == Tone::Main).then_some("");
    markup! { <button type="button" class={class} data-once={once} onclick={tap(action)}>{ label.into() }</button> }
}

/// A code as it stands on tags: large, fixed width. What stands in its place in words may break.
pub(super) fn code(text: impl Into<Words>) -> Html {
    let text = text.into();
    let class = classes(["code", when(text.contains(' '), "in-words")]);
    markup! { <span class={class}>{ text }</span> }
}

/// One row of a list, the whole width a target.
pub(super) fn row(
    action: Action,
    lead: Html,
    text: impl Into<Words>,
    note: impl Into<Words>,
) -> Html {
    markup! {
        <li class="row">
            <button type="button" class="row-button" onclick={tap(action)}>
                <span class="row-lead">{ lead }</span>
                <span class="row-text">{ text.into() }</span>
                <span class="row-note">{ note.into() }</span>
            </button>
        </li>
    }
}

/// What was cancelled, out of the way but not out of reach; nothing where nothing was.
pub(super) fn cancelled(rows: Vec<Html>) -> Html {
    if rows.is_empty() {
        return markup! {};
    }
    markup! {
        <details class="more">
            <summary>{ format!("Cancelled here ({})", rows.len()) }</summary>
            <ul class="rows">{ for rows }</ul>
        </details>
    }
}

/// A text field with its label above it.
pub(super) fn text_field(
    model: &Model,
    field: Field,
    label: &'static str,
    hint: &'static str,
) -> Html {
    typed_field(model, field, label, hint, None)
}

/// A field for a number, with the number keys.
pub(super) fn number_field(
    model: &Model,
    field: Field,
    label: &'static str,
    hint: &'static str,
) -> Html {
    typed_field(model, field, label, hint, Some("numeric"))
}

fn typed_field(
    model: &Model,
    field: Field,
    label: &'static str,
    hint: &'static str,
    keys: Option<&'static str>,
) -> Html {
    labelled(
        field,
        label,
        hint,
        markup! {
            <input id={id(field)} type="text" inputmode={keys} autocomplete="off" autocapitalize="sentences" spellcheck="false"
                aria-describedby={(!hint.is_empty()).then(|| hint_id(field))}
                aria-invalid={invalid(model, field)}
                value={model.fields.get(field).to_owned()} oninput={typing(field)} />
        },
    )
}

/// A choice from a list of values with their words; the first counts until another is chosen.
pub(super) fn choice(
    model: &Model,
    field: Field,
    label: &'static str,
    options: impl IntoIterator<Item = (String, String)>,
) -> Html {
    likely_choice(model, field, label, options, None)
}

/// The same with another than the first shown until somebody chooses. It only shows it: options that
/// changed places would leave a browser at the place that was chosen, with another text there.
pub(super) fn likely_choice(
    model: &Model,
    field: Field,
    label: &'static str,
    options: impl IntoIterator<Item = (String, String)>,
    likely: Option<String>,
) -> Html {
    let chosen = model.fields.get(field);
    let options: Vec<(String, String)> = options.into_iter().collect();
    let at = |wanted: &str| options.iter().position(|(value, _)| value == wanted);
    // Said of the first too: a browser that is given the options one by one takes any other.
    let place = at(chosen).or_else(|| at(&likely?)).unwrap_or(0);
    labelled(
        field,
        label,
        "",
        markup! {
            <select id={id(field)} onchange={choosing(field)}>
                { for options.into_iter().enumerate().map(|(at, (value, words))| markup! {
                    <option selected={at == place} value={value}>{ words }</option>
                }) }
            </select>
        },
    )
}

/// Whether the bar has just refused what stands in a field.
pub(super) fn invalid(model: &Model, field: Field) -> Option<&'static str> {
    (model.wrong == Some(field)).then_some("true")
}

fn labelled(field: Field, label: &'static str, hint: &'static str, input: Html) -> Html {
    markup! {
        <div class="field">
            <label for={id(field)}>{ label }</label>
            { input }
            if !hint.is_empty() {
                <p class="hint" id={hint_id(field)}>{ hint }</p>
            }
        </div>
    }
}

/// The id of a field in the page.
pub(super) fn id(field: Field) -> String {
    ["field-", &(field as u8).to_string()].concat()
}

fn hint_id(field: Field) -> String {
    ["hint-", &(field as u8).to_string()].concat()
}

/// How many rows a long list shows at a time.
pub(super) const PAGE_ROWS: usize = crate::app::racks::PAGE_ROWS;

/// The part of a long list that is shown.
pub(super) fn page_of<T>(items: &[T], page: usize) -> &[T] {
    let from = (page * PAGE_ROWS).min(items.len());
    &items[from..(from + PAGE_ROWS).min(items.len())]
}

/// The way to the other parts of a long list; nothing when all of it is shown.
pub(super) fn pager(page: usize, count: usize) -> Html {
    if count <= PAGE_ROWS {
        return markup! {};
    }
    let last = (count - 1) / PAGE_ROWS;
    let from = page * PAGE_ROWS + 1;
    let to = ((page + 1) * PAGE_ROWS).min(count);
    markup! {
        <div class="pager">
            <button type="button" class="button" disabled={page == 0} onclick={tap(Action::Page(page.saturating_sub(1)))}>{ "‹\u{A0}Before" }</button>
            <p>{ format!("{from} to {to} of {count}") }</p>
            <button type="button" class="button" disabled={page >= last} onclick={tap(Action::Page(page + 1))}>{ "Next\u{A0}›" }</button>
        </div>
    }
}

/// The way to where a disagreement is ended; one about a cable stands first there.
pub(super) fn settle(cable: Option<CableId>, tone: Tone) -> Html {
    let action = cable.map_or(Action::Go(Screen::Punch), Action::Settle);
    button("Settle it on the punch list", action, tone)
}

/// What is known, line by line.
pub(super) fn known(lines: &[String]) -> Html {
    markup! { <ul class="known">{ for lines.iter().map(|line| markup! { <li>{ line }</li> }) }</ul> }
}

/// What an empty screen says: what is missing, and the next step.
pub(super) fn empty(words: &'static str, step: Html) -> Html {
    markup! { <div class="empty"><p>{ words }</p>{ step }</div> }
}

/// A state as a word with a shape, never as a colour alone.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Shape {
    /// Done.
    Full,
    /// Begun.
    Half,
    /// Not begun.
    Hollow,
    /// Wants a look.
    Alarm,
}

/// Draws a state.
pub(super) fn state(shape: Shape, words: impl Into<Words>) -> Html {
    let (class, mark) = match shape {
        Shape::Full => ("full", "●"),
        Shape::Half => ("half", "◐"),
        Shape::Hollow => ("hollow", "○"),
        Shape::Alarm => ("alarm", "▲"),
    };
    markup! { <span class={classes(["state", class])}><span aria-hidden="true">{ mark }</span>{ " " }{ words.into() }</span> }
}
