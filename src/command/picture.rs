//! Pictures: what they show, and what can be seen on them.

use super::{Desk, Done, Refusal, Want, words};
use crate::domain::ids::PictureId;
use crate::domain::work::Standing;
use crate::journal::{Draft, Fact, Picture, PictureFact};

impl Desk<'_> {
    pub(super) fn picture(&self, want: &Want, draft: &mut Draft) -> Option<Done> {
        let mut say = |picture: &PictureId, fact| draft.push(Fact::Picture(*picture, fact));
        match want {
            Want::AddPicture { digest, shows } => {
                let mut pictures = self.registry.pictures.iter();
                let is_same = |row: &Picture| {
                    row.digest.get() == Some(digest)
                        && row.shows.get() == Some(shows)
                        && !row.standing.is_cancelled()
                };
                if pictures.any(|(_, row)| is_same(row)) {
                    return Some(Err(Refusal::new("This picture is here already.")));
                }
                let picture: PictureId = draft.mint();
                for fact in [PictureFact::Added(*digest), PictureFact::Shows(*shows)] {
                    draft.push(Fact::Picture(picture, fact));
                }
            }
            Want::NotePicture { picture, note } => say(picture, PictureFact::Noted(note.clone())),
            Want::PointOut { picture, points } => {
                say(picture, PictureFact::Points(points.clone()));
            }
            Want::DropPicture { picture, reason } => {
                return Some(words(reason, "The reason").map(|reason| {
                    let reason = reason.to_owned();
                    say(picture, PictureFact::Stands(Standing::Cancelled { reason }));
                }));
            }
            _ => return None,
        }
        Some(Ok(()))
    }
}
