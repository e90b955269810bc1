//! What a cable is made of, to choose.

use super::{choice, text_field};
use crate::app::wall::OWN_MEDIUM;
use crate::app::{Field, Model};
use crate::domain::medium::Medium;
use crate::ui::Html;
use crate::view::markup;

/// The media to choose from, with the way to name another one.
pub(in crate::ui) fn medium_fields(model: &Model) -> Html {
    let stock = Medium::stock().into_iter();
    let own = (OWN_MEDIUM.to_owned(), "Something else".to_owned());
    let options = stock
        .map(|medium| (medium.key(), medium.to_string()))
        .chain([own]);
    markup! {
        <>
            { choice(model, Field::CableMedium, "Medium", options) }
            if model.fields.get(Field::CableMedium) == OWN_MEDIUM {
                { text_field(model, Field::CableOwnMedium, "What it is made of, in words", "") }
            }
        </>
    }
}
