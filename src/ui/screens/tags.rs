//! Tags: for what, on which labels, how they come out, and the file.

use crate::app::tags::{self, PAGES, Paper, TagAction, choice_key};
use crate::app::{Action, Field, Model, OpenJob, Screen};
use crate::command::Want;
use crate::domain::place::Face;
use crate::names;
use crate::query::deeds::who;
use crate::query::plan;
use crate::query::printed::{sheets, to_fix};
use crate::query::pull::pulls;
use crate::tags::{Choice, Dots, Feed, Look, Outdated, Shape as Label, outdated};
use crate::ui::Html;
use crate::ui::frame::{Page, framed};
use crate::ui::parts::{
    Shape, Tone, button, choice, empty, likely_choice, number_field, page_of, state, text_field,
};
use crate::view::markup;

/// What tags can be for, with the words of the list.
const CHOICES: [(Choice, &str); 10] = [
    (Choice::ToPull, "Cables to be pulled"),
    (Choice::Untagged, "Cables without a printed tag"),
    (Choice::All, "All cables"),
    (Choice::Outlets, "Outlets: inside the box"),
    (Choice::Racks, "Racks and panels"),
    (Choice::Conduits, "Conduits and boxes"),
    (Choice::Inserts, "Faceplate inserts"),
    (Choice::Strips, "Panel strips"),
    (Choice::OldPlaces, "Tags of places that are out of date"),
    (Choice::OldStrips, "Panel strips that are out of date"),
];

/// Draws the tags of a choice.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob) -> Html {
    let mut page = Page::new("Tags");
    page.above = open.name().to_owned();
    page.back = Some(from(model));
    page.body = markup! {
        <>
            <div class="form">
                { choice(model, Field::TagsOf, "Tags for", choices(model, open)) }
                { labels(model) }
            </div>
            { unplaced(model, open) }
            { out_of_date(open) }
            { outcome(model) }
            { left_out(model) }
            { how(model) }
            { others(model) }
            { places(open) }
            { printed(open) }
        </>
    };
    page.actions = actions(model);
    framed(model, page)
}

/// Where the tags of a choice are asked for.
fn from(model: &Model) -> Screen {
    match tags::choice(model) {
        Choice::Room(id) => Screen::Room(id),
        Choice::Outlet(id) | Choice::Place(id) => Screen::Outlet(id),
        Choice::Cable(id) => Screen::Cable(id),
        Choice::Panel(panel) | Choice::Strip(panel) => Screen::Panel {
            panel,
            face: Face::Front,
        },
        Choice::ToPull
        | Choice::Untagged
        | Choice::All
        | Choice::Outlets
        | Choice::Racks
        | Choice::Conduits
        | Choice::Inserts
        | Choice::Strips
        | Choice::OldPlaces
        | Choice::OldStrips => Screen::Job,
    }
}

fn choices(model: &Model, open: &OpenJob) -> Vec<(String, String)> {
    let registry = open.journal.registry();
    let mut all: Vec<(Choice, String)> = CHOICES
        .into_iter()
        .map(|(choice, words)| (choice, words.to_owned()))
        .collect();
    let chosen = tags::choice(model);
    match chosen {
        Choice::Outlet(id) => all.insert(
            0,
            (chosen, format!("Outlet {}", names::outlet(registry, id))),
        ),
        Choice::Cable(id) => {
            all.insert(0, (chosen, format!("Cable {}", names::cable(registry, id))));
        }
        Choice::Place(id) => {
            all.insert(
                0,
                (
                    chosen,
                    format!("Outlet {}, for its box", names::outlet(registry, id)),
                ),
            );
        }
        Choice::Panel(id) => all.insert(0, (chosen, names::panel(registry, id))),
        Choice::Strip(id) => {
            all.insert(
                0,
                (chosen, format!("{}, its strip", names::panel(registry, id))),
            );
        }
        _ => {}
    }
    let rooms = plan::rooms(registry).into_iter();
    all.extend(rooms.map(|room| {
        (
            Choice::Room(room.room),
            format!("Room {} {}", room.code, room.name),
        )
    }));
    all.into_iter()
        .map(|(choice, words)| (choice_key(choice), words))
        .collect()
}

fn labels(model: &Model) -> Html {
    let all = tags::stocks(model).into_iter();
    let options: Vec<_> = all.map(|stock| (stock.name.clone(), stock.name)).collect();
    let field = tags::stock_field(tags::choice(model));
    let likely = tags::stock(model).map(|stock| stock.name);
    likely_choice(model, field, "On these labels", options, likely)
}

/// How it comes out.
fn outcome(model: &Model) -> Html {
    match &model.tags.look {
        None => markup! { <p class="lead" role="status">{ "Working it out …" }</p> },
        Some(Err(trouble)) => markup! { <p class="notice refused">{ trouble.to_string() }</p> },
        Some(Ok(Look {
            refused: Some(words),
            ..
        })) => {
            let wanted = tags::wanted(model).filter(|wanted| wanted.tags.is_empty());
            let is_empty = wanted.is_some();
            if wanted.is_some_and(|wanted| !wanted.by_hand.is_empty()) {
                // There is something, which no label can show: it is said below.
                markup! {}
            } else if is_empty {
                {
                    let is_bare = model
                        .registry()
                        .is_none_or(|registry| registry.cables.is_empty());
                    let choice = if is_bare {
                        Choice::All
                    } else {
                        tags::choice(model)
                    };
                    empty(nothing(model, choice), markup! {})
                }
            } else {
                markup! { <p class="notice refused">{ words.clone() }</p> }
            }
        }
        Some(Ok(look)) => shown(look),
    }
}

/// How many racks are offered; the rest is chosen at the outlet.
const OFFERED: usize = 3;
/// How many cables, places or strips are named.
const NAMED: usize = 4;

/// The cables whose tags name no far place, with what gives them one before anything is printed.
fn unplaced(model: &Model, open: &OpenJob) -> Html {
    let cables = &model.tags.unplaced;
    if cables.is_empty() {
        return markup! {};
    }
    let registry = open.journal.registry();
    let named = cables.iter().map(|id| names::cable(registry, *id));
    let words = [
        "No rack is chosen for ",
        &first_named(named.collect()),
        ", so the tags name no far place. Choose it before you print.",
    ];
    let racks = plan::racks(registry).into_iter();
    let racks = racks.filter_map(|rack| rack.rack).take(OFFERED);
    let racks: Vec<Html> = racks
        .map(|rack| {
            let label = ["Home to ", &names::rack(registry, rack)].concat();
            let (cables, rack) = (cables.clone(), Some(rack));
            let want = Want::RouteHome { cables, rack };
            button(label, Action::Do { want, then: None }, Tone::Quiet)
        })
        .collect();
    markup! {
        <section class="tag-words">
            <h2>{ "No far place yet" }</h2>
            <p>{ state(Shape::Alarm, words.concat()) }</p>
            if racks.is_empty() {
                { button("Add the rack", Action::Go(Screen::Racks), Tone::Quiet) }
            } else {
                { for racks }
            }
        </section>
    }
}

/// What was printed and is not so any more, by name, with the way to print it anew.
fn out_of_date(open: &OpenJob) -> Html {
    let registry = open.journal.registry();
    let old = outdated(registry);
    if old == Outdated::default() {
        return markup! {};
    }
    let places = old.places.iter();
    let places = places.map(|tag| [&tag.says, " is ", &tag.now, " now"].concat());
    let strips = old.strips.iter().map(|strip| {
        let count = strip.positions.to_string();
        let at = if strip.positions == 1 {
            " position"
        } else {
            " positions"
        };
        [&names::panel(registry, strip.panel), ", ", &count, at].concat()
    });
    let part = |what: &str, named: Vec<String>, label: &'static str, choice| {
        let words = [what, first_named(named).as_str(), "."].concat();
        markup! {
            <>
                <p>{ state(Shape::Alarm, words) }</p>
                { button(label, Action::Tags(TagAction::Of(choice)), Tone::Quiet) }
            </>
        }
    };
    markup! {
        <section class="tag-words">
            <h2>{ "Out of date" }</h2>
            if !old.places.is_empty() {
                { part("Tags of places: ", places.collect(), "Print these tags anew", Choice::OldPlaces) }
            }
            if !old.strips.is_empty() {
                { part("Panel strips: ", strips.collect(), "Print these strips anew", Choice::OldStrips) }
            }
        </section>
    }
}

/// The first of many names, and how many more there are.
fn first_named(mut named: Vec<String>) -> String {
    let count = named.len();
    if count > NAMED {
        named.truncate(NAMED);
        named.push((count - NAMED).to_string() + " more");
    }
    names::listed(&named)
}

/// What gets no tag, and why.
fn left_out(model: &Model) -> Html {
    sentences("Left out", page_of(&model.tags.left_out, 0), Shape::Alarm)
}

fn nothing(model: &Model, choice: Choice) -> &'static str {
    let is_pulled = |registry| {
        let pulls = pulls(registry);
        pulls.left() == 0 && pulls.waiting.is_empty()
    };
    match choice {
        Choice::ToPull if model.registry().is_some_and(is_pulled) => {
            "No cable is still to be pulled. Choose another kind above."
        }
        Choice::ToPull => {
            "Every cable that is still to be pulled has its tag. Choose another kind above."
        }
        Choice::Untagged => "Every cable has its tag. Choose another kind above.",
        Choice::OldPlaces | Choice::OldStrips => {
            "Nothing of this kind that was printed is out of date. Choose another kind above."
        }
        Choice::Racks | Choice::Strips | Choice::Panel(_) | Choice::Strip(_) => {
            "There is no panel with letters yet. Add the racks and panels first."
        }
        Choice::Conduits => {
            "There is no conduit and no numbered box yet. Add conduits beside the racks."
        }
        Choice::Room(_)
        | Choice::Outlet(_)
        | Choice::Cable(_)
        | Choice::All
        | Choice::Outlets
        | Choice::Inserts
        | Choice::Place(_) => {
            "There is nothing of this kind with a code yet. Add outlets at the wall first."
        }
    }
}

fn shown(look: &Look) -> Html {
    markup! {
        <>
            <figure class="tag-figure">
                <img src={picture_address(&look.picture)} alt="The first tag as it will look, at true proportion" />
                <figcaption>{ look.counts.clone() }</figcaption>
            </figure>
            { sentences("Chosen so because", &look.reasons, Shape::Full) }
            { sentences("Look at this first", &look.warnings, Shape::Alarm) }
        </>
    }
}

fn sentences(title: &'static str, of: &[String], shape: Shape) -> Html {
    if of.is_empty() {
        return markup! {};
    }
    let first = of.first().cloned().unwrap_or_default();
    let rest = &of[1..];
    markup! {
        <section class="tag-words">
            <h2>{ title }</h2>
            <p>{ state(shape, first) }</p>
            if !rest.is_empty() {
                <details class="more">
                    <summary>{ format!("{} more", rest.len()) }</summary>
                    <ul class="known">{ for rest.iter().map(|words| markup! { <li>{ words.clone() }</li> }) }</ul>
                </details>
            }
        </section>
    }
}

/// The address of a picture that stands in the page itself.
fn picture_address(svg: &str) -> String {
    let text = svg
        .replace('%', "%25")
        .replace('#', "%23")
        .replace('"', "'");
    ["data:image/svg+xml,", &text].concat()
}

fn how(model: &Model) -> Html {
    let chosen = tags::choice(model);
    let is_cables = chosen.is_cables();
    let is_sheet = tags::stock(model).is_some_and(|stock| stock.per_page().is_some());
    let sets = (2..=6).map(|set: u16| (set.to_string(), format!("{set} of each cable")));
    let dots = Dots::ALL.map(|dots| {
        let per_inch = dots.per_inch().to_string();
        (per_inch.clone(), format!("{per_inch} dots to the inch"))
    });
    let position = [("", "Leave it out"), ("yes", "Where it is landed")];
    let position = position.map(|(key, words)| (key.to_owned(), words.to_owned()));
    markup! {
        <details class="more">
            <summary>{ "How they are printed" }</summary>
            <div class="form">
                if is_cables {
                    { likely_choice(model, Field::TagsSet, "How many", sets, Some(tags::set(model).to_string())) }
                    { choice(model, Field::TagsPosition, "Position on the tag", position) }
                    { number_field(model, Field::TagsDiameter, "Outside diameter in mm, if other than usual", "It counts for all the cables chosen above") }
                }
                if chosen.is_strips() {
                    { number_field(model, Field::TagsPitch, "From port to port in mm, if other than usual", "Measure the panel over several ports and divide") }
                }
                if is_sheet {
                    { number_field(model, Field::TagsStart, "First label that is still on the sheet", "Counted from the left, row by row; empty: the sheet is new") }
                }
                { likely_choice(model, Field::TagsDots, "The printer prints", dots, Some(tags::dots(model).per_inch().to_string())) }
                { button("Describe other labels", Action::Go(Screen::Stock), Tone::Quiet) }
            </div>
        </details>
    }
}

fn others(model: &Model) -> Html {
    let make = |what| Action::Tags(TagAction::Make(what));
    let is_one = matches!(
        tags::choice(model),
        Choice::Cable(_) | Choice::Place(_) | Choice::Panel(_)
    );
    markup! {
        <details class="more">
            <summary>{ "Other ways: pen, table, picture" }</summary>
            <div class="form">
                { button("Send the list for a marker pen", Action::Tags(TagAction::PenList), Tone::Quiet) }
                { button("Texts as a table, for a handheld printer", make(Paper::Texts), Tone::Quiet) }
                if is_one {
                    <div class="actions-pair">
                        { button("The tag as PNG", make(Paper::Png), Tone::Quiet) }
                        { button("The tag as SVG", make(Paper::Svg), Tone::Quiet) }
                    </div>
                }
            </div>
        </details>
    }
}

/// Tags of places that are printed and not on yet.
fn places(open: &OpenJob) -> Html {
    let waiting = to_fix(open.journal.registry());
    let count = waiting.len();
    if count == 0 {
        return markup! {};
    }
    let want = Want::FixPlaceTags { places: waiting };
    button(
        format!("The printed tags of places are on ({count})"),
        Action::Do { want, then: None },
        Tone::Quiet,
    )
}

/// What was printed before.
fn printed(open: &OpenJob) -> Html {
    let journal = &open.journal;
    let all = sheets(journal.registry());
    if all.is_empty() {
        return markup! {};
    }
    markup! {
        <details class="more">
            <summary>{ format!("Printed before ({})", all.len()) }</summary>
            <ul class="known">{ for page_of(&all, 0).iter().map(|sheet| {
                let by = journal.act(sheet.act).map(|act| who(journal, act.id)).unwrap_or_default();
                markup! { <li>{ format!("Sheet {}: {} tags, {}. {by}", sheet.number, sheet.tags, sheet.stock) }</li> }
            }) }</ul>
        </details>
    }
}

fn actions(model: &Model) -> Html {
    let act = |action: TagAction| Action::Tags(action);
    if let Some(making) = model.tags.making.filter(|making| *making != Paper::Look) {
        let words = match (making, model.tags.progress) {
            (Paper::Pdf, Some((done, of))) => format!("Page {done} of {of} …"),
            _ => "Making it …".to_owned(),
        };
        return markup! {
            <>
                <p role="status">{ words }</p>
                { button("Give up", act(TagAction::GiveUp), Tone::Quiet) }
            </>
        };
    }
    let Some(Ok(look)) = model
        .tags
        .look
        .as_ref()
        .filter(|look| look.as_ref().is_ok_and(|look| look.refused.is_none()))
    else {
        return markup! {};
    };
    if model.tags.made.is_some() {
        return markup! {
            <>
                { button("They are printed: note it", act(TagAction::Note), Tone::Main) }
                { button("Hand out the file again", act(TagAction::HandOut), Tone::Quiet) }
            </>
        };
    }
    button(
        format!("Make the file ({})", look.labels),
        act(TagAction::Make(Paper::Pdf)),
        Tone::Main,
    )
}

/// Draws the description of a label stock.
pub(in crate::ui) fn stock(model: &Model, open: &OpenJob) -> Html {
    let mut page = Page::new("Other labels");
    page.above = open.name().to_owned();
    page.back = Some(Screen::Tags);
    let shapes = [
        (
            "wrap",
            Label::Wrap {
                print: Default::default(),
            },
        ),
        (
            "flag",
            Label::Flag {
                face: Default::default(),
            },
        ),
        ("flat", Label::Flat),
        ("insert", Label::Insert),
        (
            "strip",
            Label::Strip {
                pitch: Default::default(),
            },
        ),
    ];
    let shapes = shapes.map(|(key, shape)| (key.to_owned(), shape.words().to_owned()));
    let pages = PAGES.map(|(key, words, ..)| (key.to_owned(), format!("On sheets, {words}")));
    let feeds = pages.into_iter().chain(
        [("roll", "On a roll"), ("tape", "As a tape")]
            .map(|(key, words)| (key.to_owned(), words.to_owned())),
    );
    let own = match model.fields.get(Field::StockShape) {
        "" | "wrap" => Some("Printed part, round the cable"),
        "flag" => Some("Length of one face"),
        "strip" => Some("From port to port; empty: as the panel has them"),
        _ => None,
    };
    let is_sheet = !matches!(model.fields.get(Field::StockFeed), "roll" | "tape");
    let mm = |field, label| number_field(model, field, label, "");
    page.body = markup! {
        <>
            if let Some(name) = &model.tags.editing {
                <h2>{ ["Change ", name].concat() }</h2>
                { button("Leave them as they are", Action::Tags(TagAction::EditStock(None)), Tone::Quiet) }
            } else {
                { own_stocks(model) }
                <h2>{ "Labels that are not known yet" }</h2>
            }
            <p class="hint">{ "Measure one label in millimetres. It is kept on this device." }</p>
            <div class="form">
                { text_field(model, Field::StockName, "What you call them", "") }
                { choice(model, Field::StockShape, "What they are", shapes) }
                { choice(model, Field::StockFeed, "How they come", feeds) }
                { mm(Field::StockWidth, "Width, along the text") }
                { mm(Field::StockHeight, "Height, with the clear tail") }
                { own.map(|label| mm(Field::StockOwn, label)) }
                if is_sheet {
                    { mm(Field::StockColumns, "Labels side by side") }
                    { mm(Field::StockRows, "Labels one below the other") }
                    { mm(Field::StockLeft, "From the left edge to the first label") }
                    { mm(Field::StockTop, "From the upper edge to the first label") }
                    { mm(Field::StockAcross, "From the left edge of one label to the next") }
                    { mm(Field::StockDown, "From the upper edge of one label to the next") }
                }
            </div>
        </>
    };
    page.actions = button(
        "Keep these labels",
        Action::Tags(TagAction::KeepStock),
        Tone::Main,
    );
    framed(model, page)
}

fn own_stocks(model: &Model) -> Html {
    let back = model.tags.before.as_ref().map(|stock| {
        let words = ["Bring back ", &stock.name, " as they were"].concat();
        button(words, Action::Tags(TagAction::RestoreStock), Tone::Quiet)
    });
    if model.tags.own.is_empty() {
        return markup! { <>{ back }</> };
    }
    markup! {
        <section aria-labelledby="own-stocks">
            <h2 id="own-stocks">{ "Your labels" }</h2>
            <ul class="rows">{ for model.tags.own.iter().enumerate().map(|(at, stock)| {
                let comes = match stock.feed {
                    Feed::Sheet(_) => "on sheets",
                    Feed::Roll => "on a roll",
                    Feed::Tape => "as a tape",
                };
                let words = format!("{}: {} by {} mm, {comes}", stock.name, stock.width, stock.height);
                markup! {
                    <li class="row listed">
                        <p>{ words }</p>
                        { button("Change them", Action::Tags(TagAction::EditStock(Some(at))), Tone::Quiet) }
                        { button("Forget them", Action::Tags(TagAction::ForgetStock(at)), Tone::Quiet) }
                    </li>
                }
            }) }</ul>
            { back }
        </section>
    }
}
