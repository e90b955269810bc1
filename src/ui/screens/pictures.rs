//! Pictures: the part of other screens that shows some and takes more, and the screen of one.

use crate::app::picture::{PictureForm, screen_of, seen_key, spotted, spotted_text};
use crate::app::ports::{PictureFrom, PictureSize};
use crate::app::{Action, Field, Form, Model, OpenJob, PictureAction, Screen, Sight, shots};
use crate::domain::ids::PictureId;
use crate::domain::picture::{Shows, Spotted};
use crate::query::pictures::{About, PictureLine, PictureView, Shots, choices, view};
use crate::ui::frame::{Page, framed};
use crate::ui::parts::opening::card;
use crate::ui::parts::{Tone, button, choice, empty, page_of, pager, settle, text_field};
use crate::ui::{Html, go, sending, tap};
use crate::view::{Touch, markup};

/// Draws the pictures of something, with the ways to take more.
pub(in crate::ui) fn part(model: &Model, open: &OpenJob, what: About) -> Html {
    let shots = shots(model, open, what);
    let take = |shows, from, words| {
        let pick = Action::Picture(PictureAction::Pick(shows, from));
        button(words, pick, Tone::Quiet)
    };
    markup! {
        <section class="pictures" aria-labelledby="pictures">
            <h2 id="pictures">{ "Pictures" }</h2>
            <ul class="shots">{ for shots.lines.iter().map(|line| shot(model, line)) }</ul>
            { turn(&shots) }
            if let About::Shown(shows) = what {
                <div class="actions-pair">
                    { take(shows, PictureFrom::Camera, "Take a picture") }
                    { take(shows, PictureFrom::Device, "Choose pictures") }
                </div>
            }
        </section>
    }
}

fn shot(model: &Model, line: &PictureLine) -> Html {
    markup! {
        <li key={line.picture.0.to_string()}>
            <button type="button" class="shot" onclick={go(Screen::Picture(line.picture))}>
                { seen(model, line.digest, PictureSize::Small, "", None) }
                <span>{ &line.words }</span>
            </button>
        </li>
    }
}

/// The way round through many pictures.
fn turn(shots: &Shots) -> Html {
    let to = shots.from + shots.lines.len();
    if shots.lines.len() == shots.count {
        return markup! {};
    }
    let next = Action::Typed {
        field: Field::PicturesFrom,
        text: to.to_string(),
    };
    let words = format!("{} to {to} of {}. Show others", shots.from + 1, shots.count);
    button(words, next, Tone::Quiet)
}

/// The picture itself, or why it cannot be seen.
fn seen(
    model: &Model,
    digest: crate::domain::picture::Digest,
    size: PictureSize,
    alt: &'static str,
    touch: Option<Touch<Action>>,
) -> Html {
    match model.pictures.sight((digest, size)) {
        Sight::Here(address) => markup! { <img src={address.clone()} alt={alt} onclick={touch} /> },
        Sight::Reading => markup! { <span class="shot-none">{ "…" }</span> },
        Sight::Elsewhere => markup! { <span class="shot-none">{ "Not on this device" }</span> },
        Sight::Failed(trouble) => {
            markup! { <span class="shot-none">{ trouble.to_string() }</span> }
        }
    }
}

/// Draws one picture.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob, id: PictureId) -> Html {
    let mut page = Page::new("Picture");
    let Some(picture) = view(&open.journal, id) else {
        page.back = Some(Screen::Wall);
        page.body = empty(
            "It was taken back, or it comes with records that are not here yet.",
            markup! {},
        );
        return framed(model, page);
    };
    page.above = picture.shows_words.clone();
    page.back = picture.shows.map(screen_of);
    page.body = markup! {
        <>
            if let Some(reason) = &picture.dropped {
                <p class="say">{ format!("Put away: {reason}") }</p>
            }
            if picture.disputed { { settle(None, Tone::Quiet) } }
            { whole(model, &picture) }
            <p>{ &picture.note }</p>
            <p class="hint">{ &picture.who }</p>
            { points(model, id, &picture) }
            if let Some(shows) = picture.shows { { point(model, open, id, shows, &picture) } }
            { more(model, id) }
        </>
    };
    framed(model, page)
}

fn whole(model: &Model, picture: &PictureView) -> Html {
    let whole = (picture.digest, PictureSize::Whole);
    if *model.pictures.sight(whole) == Sight::Elsewhere {
        let by = match picture.by.as_str() {
            "" => "whoever took it",
            by => by,
        };
        let words = format!("This picture is not on this device. It is on the phone of {by}.");
        return markup! { <p class="say">{ words }</p> };
    }
    let typed = |text| Action::Typed {
        field: Field::PointAt,
        text,
    };
    let touch = Touch::Placed(Box::new(move |x, y| typed(spotted_text(x, y))));
    let new = spotted(model.fields.get(Field::PointAt));
    let new = new.map(|at| mark(at, "+".to_owned()));
    let points = picture.points.iter().enumerate();
    let marks = points.map(|(at, point)| mark(point.at, (at + 1).to_string()));
    markup! {
        <div class="picture">
            { seen(model, whole.0, whole.1, "The picture. What is seen on it stands below.", Some(touch)) }
            <svg class="marks" aria-hidden="true">{ for marks.chain(new) }</svg>
        </div>
    }
}

/// A mark stands at its place at whatever size the picture is drawn, and keeps its own size.
fn mark(at: Spotted, words: String) -> Html {
    let place = spotted_text(at.x, at.y);
    let (x, y) = place.split_once(' ').unwrap_or_default();
    markup! {
        <svg x={format!("{x}%")} y={format!("{y}%")}><circle r="14" /><text dy="6">{ words }</text></svg>
    }
}

fn form(form: PictureForm) -> Form {
    Form::Picture(form)
}

fn points(model: &Model, id: PictureId, picture: &PictureView) -> Html {
    let points: Vec<_> = picture.points.iter().enumerate().collect();
    if points.is_empty() {
        return markup! {};
    }
    markup! {
        <section aria-labelledby="seen">
            <h2 id="seen">{ "What is seen" }</h2>
            <ul class="rows">{ for page_of(&points, model.page).iter().map(|(at, point)| {
                let screen = match point.what {
                    crate::domain::picture::Seen::Cable(id) => Screen::Cable(id),
                    crate::domain::picture::Seen::Outlet(id) => Screen::Outlet(id),
                };
                let away = Action::Submit(form(PictureForm::Unpoint(id, *at)));
                markup! {
                    <li class="row seen-row">
                        <button type="button" class="row-button" onclick={go(screen)}>
                            <span class="row-lead">{ at + 1 }</span>
                            <span class="row-text">{ &point.words }{ " " }{ &point.offset }</span>
                        </button>
                        <button type="button" class="small plain" aria-label={format!("Take {} off", at + 1)} onclick={tap(away)}>{ "✕" }</button>
                    </li>
                }
            }) }</ul>
            { pager(model.page, points.len()) }
        </section>
    }
}

fn point(
    model: &Model,
    open: &OpenJob,
    id: PictureId,
    shows: Shows,
    picture: &PictureView,
) -> Html {
    let options = choices(open.journal.registry(), shows, &picture.points);
    if options.is_empty() {
        return markup! {};
    }
    let options = options
        .into_iter()
        .map(|(what, words)| (seen_key(what), words));
    card(
        "point",
        "Point something out",
        markup! {
            <form onsubmit={sending(form(PictureForm::Point(id)))}>
                { text_field(model, Field::PointAt, "Where", "Tap the picture. Or type percent from the left and from above, such as 40 62.") }
                { choice(model, Field::PointWhat, "What is there", options) }
                { text_field(model, Field::PointOffset, "How far from what, if you measured", "Such as “12 in left of the stud”") }
                <button type="submit" class="button">{ "Point it out" }</button>
            </form>
        },
    )
}

fn more(model: &Model, id: PictureId) -> Html {
    let send = |to, words| button(words, Action::Submit(form(to)), Tone::Quiet);
    card(
        "more",
        "Remark, or put it away",
        markup! {
            <>
                { text_field(model, Field::Note, "A note", "") }
                { send(PictureForm::Note(id), "Keep the note") }
                { text_field(model, Field::Reason, "Why", "Such as: too dark") }
                { send(PictureForm::Drop(id), "Put the picture away") }
            </>
        },
    )
}
