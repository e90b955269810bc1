//! The forms of one picture: what is seen where, a remark, a reason to put it away.

use super::{refuse, take};
use crate::app::{Effect, Field, Model, Screen, World};
use crate::command::Want;
use crate::domain::ids::{CableId, OutletId, PictureId, ThingId};
use crate::domain::picture::{Point, Seen, Shows, Spotted};
use crate::query::pictures::{choices, view};

/// A form of one picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PictureForm {
    /// What is chosen is seen where it was tapped.
    Point(PictureId),
    /// What stands at this place of the list is not seen there.
    Unpoint(PictureId, usize),
    /// A remark.
    Note(PictureId),
    /// It is put away, for the reason typed.
    Drop(PictureId),
}

/// How something that is seen stands in a field.
#[must_use]
pub fn seen_key(what: Seen) -> String {
    let kind = match what {
        Seen::Cable(_) => 'c',
        Seen::Outlet(_) => 'o',
    };
    format!("{kind}{}", what.thing())
}

fn seen(key: &str) -> Option<Seen> {
    let thing = |id: &str| id.parse::<ThingId>().ok();
    match key.strip_prefix('c') {
        Some(id) => thing(id).map(|id| Seen::Cable(CableId(id))),
        None => thing(key.strip_prefix('o')?).map(|id| Seen::Outlet(OutletId(id))),
    }
}

/// How a place on a picture stands in a field: from the left and from above, in percent.
#[must_use]
pub fn spotted_text(x: u16, y: u16) -> String {
    let [x, y] = [x, y].map(|of| format!("{}.{:02}", of / 100, of % 100));
    format!("{x} {y}")
}

/// The place in the field; none when what stands there is none.
#[must_use]
pub fn spotted(text: &str) -> Option<Spotted> {
    let mut numbers = text.split([' ', ';', '%']).filter(|part| !part.is_empty());
    let (x, y) = (numbers.next()?, numbers.next()?);
    if numbers.next().is_some() {
        return None;
    }
    Spotted::new(hundredths(x)?, hundredths(y)?)
}

/// Reads a number with at most two digits behind the point as hundredths.
fn hundredths(text: &str) -> Option<u16> {
    let (whole, part) = text.split_once(['.', ',']).unwrap_or((text, ""));
    let part: u16 = match part.len() {
        0 => 0,
        1 => part.parse::<u16>().ok()?.checked_mul(10)?,
        2 => part.parse().ok()?,
        _ => return None,
    };
    whole
        .parse::<u16>()
        .ok()?
        .checked_mul(100)?
        .checked_add(part)
}

const POINT: [Field; 3] = [Field::PointAt, Field::PointWhat, Field::PointOffset];

/// Sends a form of one picture.
pub(super) fn submit(model: &mut Model, form: PictureForm, world: &impl World) -> Vec<Effect> {
    let text = |field| model.fields.get(field).trim().to_owned();
    match form {
        PictureForm::Point(picture) => match pointed(model, picture) {
            Ok(points) => take(
                model,
                Want::PointOut { picture, points },
                &POINT,
                None,
                world,
            ),
            Err(words) => refuse(model, words),
        },
        PictureForm::Unpoint(picture, place) => {
            let mut points = points(model, picture);
            if place < points.len() {
                points.remove(place);
            }
            take(model, Want::PointOut { picture, points }, &[], None, world)
        }
        PictureForm::Note(picture) => {
            let note = text(Field::Note);
            let want = Want::NotePicture { picture, note };
            take(model, want, &[Field::Note], None, world)
        }
        PictureForm::Drop(picture) => {
            let reason = text(Field::Reason);
            let row = model.registry().and_then(|of| of.pictures.get(picture));
            let shows = row.and_then(|row| row.shows.get());
            let then = shows.map(|shows| screen_of(*shows));
            let want = Want::DropPicture { picture, reason };
            take(model, want, &[Field::Reason], then, world)
        }
    }
}

/// The screen of what a picture shows.
#[must_use]
pub fn screen_of(shows: Shows) -> Screen {
    match shows {
        Shows::Outlet(id) => Screen::Outlet(id),
        Shows::Room(id) => Screen::Room(id),
        Shows::LooseEnd(_) => Screen::Loose,
        Shows::Plan(_) => Screen::Rooms,
    }
}

fn points(model: &Model, picture: PictureId) -> Vec<Point> {
    let row = model.registry().and_then(|of| of.pictures.get(picture));
    let points = row.and_then(|row| row.points.get());
    points.cloned().unwrap_or_default()
}

/// What is pointed out once the form is taken.
fn pointed(model: &Model, picture: PictureId) -> Result<Vec<Point>, &'static str> {
    let at = spotted(model.fields.get(Field::PointAt)).ok_or(
        "Tap the picture where it is. Or type how far from the left and from above in percent, such as 40 62.",
    )?;
    let chosen = seen(model.fields.get(Field::PointWhat)).or_else(|| {
        // The list shows its first until another is chosen.
        let view = view(&model.open.as_ref()?.journal, picture)?;
        let first = choices(model.registry()?, view.shows?, &view.points);
        first.first().map(|(what, _)| *what)
    });
    let what = chosen.ok_or("Say first which cable this is. Then point it out.")?;
    let offset = model.fields.get(Field::PointOffset).trim().to_owned();
    let mut points = points(model, picture);
    // An outlet is at one place of a plan.
    let row = model.registry().and_then(|of| of.pictures.get(picture));
    let shows = row.and_then(|row| row.shows.get());
    if matches!(shows, Some(Shows::Plan(_))) {
        points.retain(|point| point.what != what);
    }
    points.push(Point { what, at, offset });
    Ok(points)
}
