//! Pictures on their way in, and those on the page.
//!
//! A picture is stored before it is written down that there is one, so that nothing ever points at
//! bytes that were not there. What could not be stored stays here until it is, or is taken out as a
//! file. Of all that is stored, no more is held than what the page shows.

use std::rc::Rc;

use super::ports::{PictureBytes, PictureFrom, PictureSize, Trouble};
use super::{Action, Effect, Field, Model, Notice, OpenJob, Saved, Screen, World};
use crate::command::Want;
use crate::domain::ids::{FloorId, JobId, LooseEndId, ThingId};
use crate::domain::picture::{Digest, Shows};
use crate::exchange::bundle::Carried;
use crate::journal::picture_digest;
use crate::query::pictures::{self, About, Shots};

/// How many pictures of a place are shown at a time.
const SHOWN: usize = 6;

/// Pictures on their way in, and those on the page.
#[derive(Debug, Default)]
pub struct Pictures {
    unkept: Vec<Unkept>,
    /// How many chosen ones are still to be made smaller.
    coming: usize,
    /// How many were chosen since the last time that none was on its way.
    chosen: usize,
    refused: Vec<String>,
    trouble: Option<Trouble>,
    on_page: Vec<OnPage>,
}

/// A picture that is not stored yet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unkept {
    job: JobId,
    /// What it shows; none of one that came with a file, whose lines say so.
    shows: Option<Shows>,
    digest: Digest,
    bytes: Rc<PictureBytes>,
}

impl Unkept {
    /// The job that it belongs to, and its name, for the store.
    #[must_use]
    pub fn place(&self) -> [String; 2] {
        [self.job.0.to_string(), self.digest.to_string()]
    }

    /// Its digest.
    #[must_use]
    pub fn digest(&self) -> Digest {
        self.digest
    }

    /// The picture.
    #[must_use]
    pub fn bytes(&self) -> Rc<PictureBytes> {
        Rc::clone(&self.bytes)
    }
}

#[derive(Debug)]
struct OnPage {
    wanted: Wanted,
    sight: Sight,
}

/// A picture that the page shows, in one of its sizes.
pub type Wanted = (Digest, PictureSize);

/// Whether a picture can be shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Sight {
    /// It is being read.
    Reading,
    /// It is at this address.
    Here(String),
    /// It is not on this device.
    Elsewhere,
    /// It could not be read.
    Failed(Trouble),
}

/// What the store is asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Ask {
    /// Store a picture, and say when it is on the disk.
    Keep(Unkept),
    /// Read a picture, so that it can be shown.
    Read(JobId, Wanted),
    /// Read a picture in both sizes, to pack it.
    Pack(JobId, Digest),
    /// Say how much room there is.
    Room,
}

/// What happens with pictures.
#[derive(Clone, Debug, PartialEq)]
pub enum PictureAction {
    /// Take or choose pictures of something.
    Pick(Shows, PictureFrom),
    /// So many were taken or chosen, and come one after the other.
    Chosen(usize),
    /// One of them cannot be taken in: the name of its file, and why.
    Refused(String, Trouble),
    /// What was refused has been read.
    RefusedRead,
    /// One was taken and made smaller.
    Taken(JobId, Shows, Rc<PictureBytes>),
    /// One is on the disk.
    Kept(Digest),
    /// One could not be stored.
    NotKept(Trouble),
    /// Hand out what could not be stored.
    TakeOut,
    /// One was read; the address under which it can be shown, if it is on this device.
    Read(Wanted, Result<Option<String>, Trouble>),
}

impl Pictures {
    /// Whether the picture can be shown.
    #[must_use]
    pub fn sight(&self, wanted: Wanted) -> &Sight {
        let found = self.on_page.iter().find(|on_page| on_page.wanted == wanted);
        found.map_or(&Sight::Reading, |on_page| &on_page.sight)
    }

    /// What was refused, in words, until somebody has read it.
    #[must_use]
    pub fn refused(&self) -> &[String] {
        &self.refused
    }

    /// Which of how many pictures is on its way to the disk; none when none is.
    #[must_use]
    pub fn progress(&self) -> Option<(usize, usize)> {
        let waiting = self.coming + self.unkept.len();
        let of = self.chosen.max(waiting);
        (waiting > 0).then_some((of - waiting + 1, of))
    }

    fn one_came(&mut self) {
        self.coming = self.coming.saturating_sub(1);
    }

    /// Whether something could not be stored.
    #[must_use]
    pub fn is_in_trouble(&self) -> bool {
        self.trouble.is_some()
    }

    /// Everything that is not stored yet, to try again.
    pub(super) fn again(&mut self) -> impl Iterator<Item = Effect> {
        self.trouble = None;
        self.unkept
            .iter()
            .cloned()
            .map(|unkept| Effect::Ask(Ask::Keep(unkept)))
    }
}

impl Model {
    /// Whether leaving now would lose what is not on the disk yet. What stands in the fields is kept
    /// by itself.
    #[must_use]
    pub fn would_lose(&self) -> bool {
        matches!(self.saved(), Saved::Saving | Saved::Failed(_))
    }

    /// What the screen says about storing, of lines and pictures together.
    #[must_use]
    pub fn saved(&self) -> Saved {
        match (self.saving.state(), &self.pictures.trouble) {
            (failed @ Saved::Failed(_), _) => failed,
            (_, Some(trouble)) => Saved::Failed(trouble.clone()),
            (_, None) if self.pictures.progress().is_some() => Saved::Saving,
            (state, None) => state,
        }
    }
}

/// Lets something happen with pictures.
pub(super) fn happen(model: &mut Model, action: PictureAction, world: &impl World) -> Vec<Effect> {
    match action {
        PictureAction::Pick(shows, from) => {
            let job = model.open.as_ref().map(|open| open.journal.job());
            let pick = |job| Effect::PickPictures { job, shows, from };
            job.map(pick).into_iter().collect()
        }
        PictureAction::Chosen(count) => {
            let pictures = &mut model.pictures;
            if pictures.progress().is_none() {
                pictures.chosen = 0;
            }
            pictures.chosen += count;
            pictures.coming += count;
            Vec::new()
        }
        PictureAction::Refused(name, trouble) => {
            model.pictures.one_came();
            let words = match trouble {
                Trouble::NoPicture(_) => trouble.to_string(),
                _ => format!("{name}: {trouble}"),
            };
            model.pictures.refused.push(words);
            Vec::new()
        }
        PictureAction::RefusedRead => {
            model.pictures.refused.clear();
            Vec::new()
        }
        PictureAction::Taken(job, shows, bytes) => {
            model.pictures.one_came();
            let digest = picture_digest(&bytes.whole);
            let unkept = Unkept {
                job,
                shows: Some(shows),
                digest,
                bytes,
            };
            model.pictures.unkept.push(unkept.clone());
            vec![Effect::Ask(Ask::Keep(unkept))]
        }
        PictureAction::Kept(digest) => kept(model, digest, world),
        PictureAction::NotKept(trouble) => {
            model.pictures.trouble = Some(trouble);
            Vec::new()
        }
        PictureAction::TakeOut => {
            let unkept = model.pictures.unkept.iter();
            let out = unkept.map(|unkept| Effect::HandOut {
                name: format!("{}.jpg", unkept.digest),
                kind: "image/jpeg",
                bytes: unkept.bytes.whole.clone(),
                records: 0,
            });
            out.collect()
        }
        PictureAction::Read(wanted, found) => read(model, wanted, found),
    }
}

/// Has pictures stored that came with a file.
pub(super) fn come_along(
    model: &mut Model,
    job: JobId,
    pictures: Vec<Carried>,
) -> impl Iterator<Item = Effect> {
    let carried = pictures.into_iter().map(|carried| Unkept {
        job,
        shows: None,
        digest: carried.digest,
        bytes: Rc::new(PictureBytes {
            whole: carried.whole,
            small: carried.small,
        }),
    });
    let carried: Vec<Unkept> = carried.collect();
    model.pictures.unkept.extend(carried.iter().cloned());
    let keep = |unkept| Effect::Ask(Ask::Keep(unkept));
    carried.into_iter().map(keep)
}

/// Writes down that there is a picture, now that it is on the disk.
fn kept(model: &mut Model, digest: Digest, world: &impl World) -> Vec<Effect> {
    let unkept = &mut model.pictures.unkept;
    let Some(at) = unkept.iter().position(|unkept| unkept.digest == digest) else {
        return Vec::new();
    };
    let unkept = unkept.remove(at);
    if model.pictures.unkept.is_empty() {
        model.pictures.trouble = None;
    }
    let Some(shows) = unkept.shows else {
        return Vec::new();
    };
    if model.open.as_ref().map(|open| open.journal.job()) != Some(unkept.job) {
        let words = "The job of the picture was closed before the picture was kept. Open the job and take the picture again.";
        model.notice = Some(Notice::Told(words.to_owned()));
        return Vec::new();
    }
    // By the way of all wants: what does them is compiled once.
    let want = Want::AddPicture { digest, shows };
    super::happen(model, Action::Do { want, then: None }, world)
}

fn read(model: &mut Model, wanted: Wanted, found: Result<Option<String>, Trouble>) -> Vec<Effect> {
    let mut on_page = model.pictures.on_page.iter_mut();
    let on_page = on_page.find(|on_page| on_page.wanted == wanted);
    let sight = match found {
        Ok(Some(address)) => Sight::Here(address),
        Ok(None) => Sight::Elsewhere,
        Err(trouble) => Sight::Failed(trouble),
    };
    let of_no_use = match on_page {
        Some(on_page) => std::mem::replace(&mut on_page.sight, sight),
        None => sight,
    };
    forget(of_no_use).into_iter().collect()
}

fn forget(sight: Sight) -> Option<Effect> {
    match sight {
        Sight::Here(address) => Some(Effect::ForgetPicture(address)),
        Sight::Reading | Sight::Elsewhere | Sight::Failed(_) => None,
    }
}

/// Has read what the page shows now, and gives back what it no longer shows.
pub(super) fn look_after(model: &mut Model, effects: &mut Vec<Effect>) {
    let wanted = wanted(model);
    let pictures = &mut model.pictures.on_page;
    if pictures.is_empty() && wanted.is_empty() {
        return;
    }
    for on_page in std::mem::take(pictures) {
        if wanted.contains(&on_page.wanted) {
            pictures.push(on_page);
        } else {
            effects.extend(forget(on_page.sight));
        }
    }
    let Some(open) = &model.open else {
        return;
    };
    for wanted in wanted {
        if pictures.iter().all(|on_page| on_page.wanted != wanted) {
            let sight = Sight::Reading;
            pictures.push(OnPage { wanted, sight });
            let job = open.journal.job();
            effects.push(Effect::Ask(Ask::Read(job, wanted)));
        }
    }
}

/// What the page shows.
fn wanted(model: &Model) -> Vec<Wanted> {
    let (Some(open), Some(screen)) = (&model.open, model.screen()) else {
        return Vec::new();
    };
    if let Screen::Picture(id) = screen {
        let row = open.journal.registry().pictures.get(id);
        let digest = row.and_then(|row| row.digest.get());
        let whole = digest.map(|digest| (*digest, PictureSize::Whole));
        return whole.into_iter().collect();
    }
    let Some(what) = what_of(model, screen) else {
        return Vec::new();
    };
    let mut wanted = Vec::new();
    for line in shots(model, open, what).lines {
        let small = (line.digest, PictureSize::Small);
        if !wanted.contains(&small) {
            wanted.push(small);
        }
    }
    wanted
}

/// What a screen shows pictures of.
fn what_of(model: &Model, screen: Screen) -> Option<About> {
    Some(match screen {
        Screen::Outlet(id) => About::Shown(Shows::Outlet(id)),
        Screen::Room(id) | Screen::Cover(id) => About::Shown(Shows::Room(id)),
        Screen::Cable(id) => About::Cable(id),
        Screen::Loose => {
            let id: ThingId = model.fields.get(Field::LooseOpen).parse().ok()?;
            About::Shown(Shows::LooseEnd(LooseEndId(id)))
        }
        Screen::Rooms => {
            let id: ThingId = model.fields.get(Field::OpenRow).parse().ok()?;
            About::Shown(Shows::Plan(FloorId(id)))
        }
        _ => return None,
    })
}

/// The pictures of something that are shown.
#[must_use]
pub fn shots(model: &Model, open: &OpenJob, what: About) -> Shots {
    let from = model.fields.get(Field::PicturesFrom).parse().unwrap_or(0);
    pictures::about(&open.journal, what, from, SHOWN)
}
