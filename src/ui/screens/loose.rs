//! Loose ends: number them, say what they turned out to be, part what proved wrong.

use crate::app::{Action, Field, FindForm, Form, Model, OpenJob, Screen};
use crate::command::Want;
use crate::domain::medium::Medium;
use crate::domain::picture::Shows;
use crate::domain::place::Side;
use crate::query::loose::{LooseRow, loose_ends, rooms};
use crate::query::pictures::About;
use crate::ui::frame::{Page, framed};
use crate::ui::parts::{Shape, Tone, button, choice, empty, page_of, pager, state, text_field};
use crate::ui::screens::pictures;
use crate::ui::{Html, sending, tap};
use crate::view::markup;

/// Draws the loose ends.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob) -> Html {
    let rows = loose_ends(open.journal.registry());
    let mut page = Page::new("Loose ends");
    page.above = open.name().to_owned();
    page.back = Some(Screen::Job);
    page.body = markup! {
        <>
            if rows.is_empty() {
                { empty("No end is loose. Number an end whose cable nobody knows, put the number on a tag of its own, and tone it later.", markup! {}) }
            } else {
                <ul class="rows">{ for page_of(&rows, model.page).iter().map(|row| drawn(model, open, row, &rows)) }</ul>
                { pager(model.page, rows.len()) }
            }
            { add(model, open, &rows) }
        </>
    };
    framed(model, page)
}

fn drawn(model: &Model, job: &OpenJob, row: &LooseRow, all: &[LooseRow]) -> Html {
    let key = row.id.0.to_string();
    let is_open = model.fields.get(Field::LooseOpen) == key;
    let open = Action::Typed {
        field: Field::LooseOpen,
        text: if is_open { String::new() } else { key.clone() },
    };
    let (shape, words) = match row.joined {
        Some(_) => (Shape::Full, "known"),
        None => (Shape::Hollow, "not known"),
    };
    markup! {
        <li class="row" key={key}>
            <button type="button" class="row-button" aria-expanded={is_open.to_string()} onclick={tap(open)}>
                <span class="row-lead code">{ row.number }</span>
                <span class="row-text">
                    { &row.place }
                    if !row.about.is_empty() { <span class="loose-about">{ &row.about }</span> }
                    if row.joined.is_some() { <span class="loose-about">{ "Is " }{ &row.joined_words }</span> }
                </span>
                <span class="row-note">{ state(shape, words) }</span>
            </button>
            if is_open {
                { opened(model, row, all) }
                { pictures::part(model, job, About::Shown(Shows::LooseEnd(row.id))) }
            }
        </li>
    }
}

fn opened(model: &Model, row: &LooseRow, all: &[LooseRow]) -> Html {
    if let Some(end) = row.joined {
        let want = Want::PartLooseEnd { loose: row.id };
        return markup! {
            <div class="loose-open">
                { button("Show the cable", Action::Go(Screen::Cable(end.cable)), Tone::Quiet) }
                { button("That was wrong: part it", Action::Do { want, then: None }, Tone::Quiet) }
            </div>
        };
    }
    let join = |side| {
        Action::Submit(Form::Find(FindForm::JoinLoose {
            loose: row.id,
            side,
        }))
    };
    let others = all
        .iter()
        .filter(|other| other.id != row.id && other.joined.is_none());
    let others: Vec<(String, String)> = others
        .map(|other| {
            (
                other.id.0.to_string(),
                format!("{}: {}", other.number, other.place),
            )
        })
        .collect();
    markup! {
        <div class="loose-open">
            { choice(model, Field::LooseHow, "How you know it", [
                (String::new(), "By what is written on it".to_owned()),
                ("toned".to_owned(), "Toned".to_owned()),
            ]) }
            { text_field(model, Field::LooseCode, "It is this cable", "Its code, such as KIT2-C; for two loose ends, the outlet") }
            <div class="actions-pair">
                { button("Its outlet end", join(Side::Near), Tone::Quiet) }
                { button("Its rack end", join(Side::Far), Tone::Quiet) }
            </div>
            if !others.is_empty() {
                { choice(model, Field::LooseOther, "Or it is one cable with", std::iter::once((String::new(), "Choose a loose end".to_owned())).chain(others)) }
                { button("One cable, to the outlet typed above", Action::Submit(Form::Find(FindForm::JoinTwo(row.id))), Tone::Quiet) }
            }
            { button("Change what is noted", Action::Submit(Form::Find(FindForm::EditLoose(row.id))), Tone::Quiet) }
        </div>
    }
}

fn add(model: &Model, open: &OpenJob, rows: &[LooseRow]) -> Html {
    let first = |words: &str| std::iter::once((String::new(), words.to_owned()));
    let rooms_here = rooms(open.journal.registry()).into_iter();
    let rooms_here = rooms_here.map(|(id, name)| (id.0.to_string(), name));
    let media = Medium::stock()
        .into_iter()
        .map(|medium| (medium.key(), medium.to_string()));
    let key = model.fields.get(Field::LooseEdited);
    let edited = rows.iter().find(|row| row.id.0.to_string() == key);
    let (form, heading, send) = match edited {
        Some(row) => (
            FindForm::DescribeLoose(row.id),
            format!("What is noted of loose end {}", row.number),
            "Keep it so",
        ),
        None => (
            FindForm::AddLoose,
            "Number another end".to_owned(),
            "Give it a number",
        ),
    };
    markup! {
        <section class="card" aria-labelledby="add-loose">
            <h2 id="add-loose">{ heading }</h2>
            <form onsubmit={sending(Form::Find(form))}>
                { choice(model, Field::LooseRoom, "Room", first("Not in a room").chain(rooms_here)) }
                { text_field(model, Field::LoosePlace, "Where exactly", "Such as: behind the panel, third from the left") }
                { choice(model, Field::LooseMedium, "Made of", first("Not known").chain(media)) }
                { text_field(model, Field::LooseNote, "What is written on it, or a remark", "") }
                <button type="submit" class="button main">{ send }</button>
            </form>
            if let Some(row) = edited {
                { button("Leave it as it is", Action::Submit(Form::Find(FindForm::EditLoose(row.id))), Tone::Quiet) }
            }
        </section>
    }
}
