//! One outlet: its plate with the cables, one tap for all of them, exceptions after.

use crate::app::wall::{PEN_COPIES, WallForm, WallPart, open_part};
use crate::app::{Action, FootageOf, Form, Model, OpenJob, Screen};
use crate::command::{JackEnd, Want};
use crate::domain::ids::OutletId;
use crate::domain::picture::Shows;
use crate::domain::place::{End, Side};
use crate::domain::work::{MarkKind, PullOutcome};
use crate::query::pictures::About;
use crate::query::wall::{
    self, Belongs, EndHere, MarkState, OutletStanding, OutletView, PullState, Settled,
};
use crate::ui::frame::{Page, framed};
use crate::ui::parts::plate::plate;
use crate::ui::parts::{Shape, Tone, button, cancelled, code, empty, row, state};
use crate::ui::screens::pictures;
use crate::ui::{Html, go, tap};
use crate::view::{Words, markup};

/// A cable's row and what opens below it.
mod cable;
/// Putting a cable right.
mod fix;
/// What concerns the outlet as a whole.
mod whole;

/// What the parts of this screen draw with.
#[derive(Clone, Copy)]
struct Desk<'a> {
    model: &'a Model,
    open: &'a OpenJob,
    id: OutletId,
    view: &'a OutletView,
}

impl Desk<'_> {
    /// A button that opens a part of the screen, or closes it.
    fn part_button(&self, part: WallPart, label: &'static str) -> Html {
        let form = WallForm::OpenPart {
            outlet: self.id,
            part,
        };
        let is_open = open_part(self.model) == Some(part);
        markup! {
            <button type="button" class="button opens" aria-expanded={is_open.to_string()} onclick={tap(Action::Submit(Form::Wall(form)))}>{ label }</button>
        }
    }

    /// A button that does something and stays here.
    fn doing(&self, label: impl Into<Words>, want: Want) -> Html {
        button(label, Action::Do { want, then: None }, Tone::Quiet)
    }
}

/// How many characters of a purpose stand in the heading of a phone's screen for sure; a longer one
/// stands below the plate too.
const LONG_TITLE: usize = 40;

/// Draws an outlet.
pub(in crate::ui) fn draw(model: &Model, open: &OpenJob, id: OutletId) -> Html {
    let Some(view) = wall::outlet(open.journal.registry(), id) else {
        return gone(model);
    };
    let desk = Desk {
        model,
        open,
        id,
        view: &view,
    };
    let mut page = Page::new("");
    page.title = markup! { <>{ code(view.code.clone()) }{ " " }{ called(&view) }</> };
    page.above = format!("{}, outlet", view.room_name);
    page.back = Some(view.room.map_or(Screen::Wall, Screen::Room));
    page.body = markup! {
        <>
            if view.standing == OutletStanding::Cancelled {
                <p class="lead"><b>{ "▲ This outlet is cancelled. " }</b>{ "Its codes stay taken." }</p>
            }
            if let Some(waits) = &view.waits {
                <p class="lead">{ state(Shape::Alarm, waits.to_string()) }</p>
            }
            { drawing(desk) }
            { all_at_once(desk) }
            { cables(desk) }
            { away(desk) }
            { cancelled(wall::cancelled_at(open.journal.registry(), id).into_iter().map(|gone| {
                row(Action::Go(Screen::Cable(gone.id)), code(gone.code), gone.name, "›")
            }).collect()) }
            { pictures::part(model, open, About::Shown(Shows::Outlet(id))) }
            { whole::draw(desk) }
        </>
    };
    page.actions = match view.standing {
        OutletStanding::Wanted => actions(desk),
        OutletStanding::Cancelled => {
            let want = Want::RestoreOutlet { outlet: id };
            button(
                "It is wanted again",
                Action::Do { want, then: None },
                Tone::Main,
            )
        }
    };
    framed(model, page)
}

fn gone(model: &Model) -> Html {
    let mut page = Page::new("This outlet is not in the job");
    page.body = empty(
        "It was taken back, or it comes with records that are not here yet.",
        markup! {},
    );
    page.actions = button("To the rooms", Action::Go(Screen::Wall), Tone::Main);
    framed(model, page)
}

fn called(view: &OutletView) -> String {
    if view.purpose.trim().is_empty() {
        view.kind.clone()
    } else {
        view.purpose.clone()
    }
}

fn drawing(desk: Desk<'_>) -> Html {
    let view = desk.view;
    let mut about: Vec<String> = Vec::new();
    if !view.purpose.trim().is_empty() {
        about.push(view.kind.clone());
    }
    if view.purpose.chars().count() > LONG_TITLE {
        about.push(view.purpose.clone());
    }
    about.extend(whole::spot_words(desk));
    markup! {
        <figure class="plate-figure">
            if view.ends.is_empty() && view.standing == OutletStanding::Wanted {
                { empty("No cable comes out here yet. Add the first one below.", markup! {}) }
            }
            if !view.ends.is_empty() {
                { plate(&view.code, view.wall_box, &view.ends, None) }
            }
            if !about.is_empty() {
                <figcaption>{ about.join(" · ") }</figcaption>
            }
        </figure>
    }
}

/// What can be said of all cables in one tap.
fn all_at_once(desk: Desk<'_>) -> Html {
    let unpulled: Vec<_> = of(desk, |end| end.pull == PullState::No)
        .map(|end| end.end.cable)
        .collect();
    let open: Vec<JackEnd> = of(desk, |end| {
        end.here == Settled::Open && end.pull == PullState::Pulled
    })
    .map(|end| JackEnd {
        end: end.end,
        jack: end.jack,
    })
    .collect();
    let pulled = Want::ReportPull {
        cables: unpulled.clone(),
        outcome: PullOutcome::Pulled,
    };
    let landed = Want::LandInPlate {
        outlet: desk.id,
        jacks: open.clone(),
    };
    let is_printed = |end: &EndHere| end.mark == MarkState::Yes(MarkKind::Printed);
    let printed: Vec<_> = of(desk, is_printed).map(|end| end.end).collect();
    let fixed = tags_on(&printed);
    markup! {
        <div class="wall-grid">
            if !printed.is_empty() {
                { desk.doing(tags_on_words(printed.len()), fixed) }
            }
            if !unpulled.is_empty() {
                { desk.doing(format!("All pulled ({})", unpulled.len()), pulled) }
            } else {
                if !open.is_empty() {
                    { desk.doing(terminated_words(open.len(), desk.view.ends.len()), landed) }
                }
            }
        </div>
    }
}

fn terminated_words(open: usize, all: usize) -> String {
    match open {
        open if open == all => format!("All jacks terminated ({all})"),
        1 => "The 1 jack left is terminated".to_owned(),
        open => format!("The {open} jacks left are terminated"),
    }
}

fn of<'a>(desk: Desk<'a>, is: impl Fn(&EndHere) -> bool + 'a) -> impl Iterator<Item = &'a EndHere> {
    desk.view.ends.iter().filter(move |end| is(end))
}

fn cables(desk: Desk<'_>) -> Html {
    let list = |heading: &'static str, belongs: fn(Belongs) -> bool| {
        let ends: Vec<&EndHere> = of(desk, |end| belongs(end.belongs)).collect();
        if ends.is_empty() {
            return markup! {};
        }
        markup! {
            <section>
                <h2>{ heading }</h2>
                <ul class="rows">{ for ends.into_iter().map(|end| cable::row(desk, end)) }</ul>
            </section>
        }
    };
    markup! {
        <>
            { list("Cables", |belongs| belongs == Belongs::Own) }
            { list("Came out here instead of elsewhere", |belongs| belongs == Belongs::Visitor) }
            { list("Out to", |belongs| belongs == Belongs::Out) }
        </>
    }
}

/// Cables of this outlet that came out elsewhere.
fn away(desk: Desk<'_>) -> Html {
    if desk.view.away.is_empty() {
        return markup! {};
    }
    markup! {
        <section>
            <h2>{ "Came out elsewhere" }</h2>
            <ul class="rows">
                { for desk.view.away.iter().map(|away| markup! {
                    <li class="row">
                        <button type="button" class="row-button" onclick={go(Screen::Outlet(away.at))}>
                            <span class="row-lead code">{ &away.code }</span>
                            <span class="row-text">{ format!("is at {}", away.words) }</span>
                        </button>
                    </li>
                }) }
            </ul>
        </section>
    }
}

fn tags_on_words(count: usize) -> String {
    match count {
        1 => "The printed tag is on".to_owned(),
        _ => format!("The printed tags are on ({count})"),
    }
}

fn tags_on(ends: &[End]) -> Want {
    Want::MarkEnds {
        ends: ends.to_vec(),
        kind: MarkKind::Fixed,
        copies: PEN_COPIES,
    }
}

/// Mark all in one tap; after that, the next outlet in one tap.
fn actions(desk: Desk<'_>) -> Html {
    let unmarked = wall::unmarked(&desk.view.ends);
    let main = if unmarked.is_empty() {
        match wall::next_outlet(desk.open.journal.registry(), Some(desk.id)) {
            Some(next) => button(
                format!("Next outlet: {}", next.code),
                Action::GoOn(Screen::Outlet(next.outlet)),
                Tone::Main,
            ),
            None => button(
                "All marked. To the rooms",
                Action::Go(Screen::Wall),
                Tone::Main,
            ),
        }
    } else {
        let waits = desk.view.ends.iter();
        let waits = waits.filter(|end| end.mark == MarkState::Printed);
        let are_printed = waits.count() == unmarked.len();
        let label = match (unmarked.len(), desk.view.ends.len()) {
            (left, _) if are_printed => tags_on_words(left),
            (1, _) => "Mark the 1 left, with the pen".to_owned(),
            (left, all) if left == all => format!("Mark all {all} with the pen"),
            (left, _) => format!("Mark the {left} left, with the pen"),
        };
        let want = if are_printed {
            tags_on(&unmarked)
        } else {
            Want::MarkEnds {
                ends: unmarked.clone(),
                kind: MarkKind::Pen,
                copies: PEN_COPIES,
            }
        };
        button(label, Action::Do { want, then: None }, Tone::Main)
    };
    let pen = Screen::Pen {
        outlet: desk.id,
        place: 0,
    };
    let footage = Screen::Footage {
        of: FootageOf::Outlet(desk.id),
        side: Side::Near,
    };
    markup! {
        <>
            { main }
            <div class="actions-pair">
                if !unmarked.is_empty() {
                    { button("What to write", Action::Go(pen), Tone::Quiet) }
                }
                if unmarked.is_empty() {
                    if let Some(room) = desk.view.room {
                        { button("OK to cover?", Action::Go(Screen::Cover(room)), Tone::Quiet) }
                    }
                }
                if !desk.view.ends.is_empty() {
                    { button("Footage", Action::Go(footage), Tone::Quiet) }
                }
            </div>
        </>
    }
}
