//! What a screen shows, as plain values: elements, words, and what a touch means.
//!
//! A drawing is data. It can be made and looked at without a browser, and what turns it into a page
//! is written once, elsewhere, and not again at every place that draws something.

use std::borrow::Cow;

/// Building drawings as they are written with `markup!`.
mod pen;
/// Whether a drawing can be used by everybody.
mod sound;
/// What may stand inside an element, or be the value of an attribute.
mod worth;

pub use pen::Pen;
pub(crate) use pen::{markup, markup_into};
pub use sound::faults;
pub use worth::{Piece, Worth};

/// Text of the program itself, or of the job.
pub type Words = Cow<'static, str>;

/// A part of a drawing whose touches mean `M`.
#[derive(Default)]
pub enum Node<M> {
    /// Nothing at all.
    #[default]
    Nothing,
    /// Text.
    Text(Words),
    /// An element with what is inside it.
    Element(Box<Element<M>>),
    /// Several parts one after the other.
    Several(Vec<Self>),
}

/// An element of the page.
pub struct Element<M> {
    /// Its name in HTML or SVG.
    pub tag: &'static str,
    /// Tells it from its neighbours when a list changes.
    pub key: Option<Words>,
    /// Its attributes, in the order in which they were given.
    pub attributes: Vec<(&'static str, Words)>,
    /// What touches of it mean.
    pub touches: Vec<Touch<M>>,
    /// What is inside.
    pub inside: Vec<Node<M>>,
}

/// The attribute of a button that may come where another one stood just before: the second of two quick
/// taps was meant for that, and does nothing.
pub const ONCE: &str = "data-once";

/// What somebody does to an element, and what it means.
pub enum Touch<M> {
    /// A tap, a click, or a key that does the same.
    Tap(M),
    /// Text was typed into the field; it means this, made of what stands there now.
    Typed(Box<dyn Fn(String) -> M>),
    /// Something was chosen from the list.
    Chosen(Box<dyn Fn(String) -> M>),
    /// The form was sent.
    Sent(M),
    /// A tap at a place of the element, in ten-thousandths of its width from the left and of its
    /// height from above.
    Placed(Box<dyn Fn(u16, u16) -> M>),
}

impl<M> Element<M> {
    /// The value of an attribute, where it is given.
    #[must_use]
    pub fn attribute(&self, name: &str) -> Option<&str> {
        let mut given = self.attributes.iter();
        given
            .find(|(other, _)| *other == name)
            .map(|(_, value)| value.as_ref())
    }
}

impl<M> Node<M> {
    /// Calls `visit` with every element, the outer before the inner.
    pub fn each(&self, visit: &mut impl FnMut(&Element<M>)) {
        match self {
            Self::Nothing | Self::Text(_) => {}
            Self::Element(element) => {
                visit(element);
                for node in &element.inside {
                    node.each(visit);
                }
            }
            Self::Several(nodes) => {
                for node in nodes {
                    node.each(visit);
                }
            }
        }
    }
}

/// Several classes as one attribute; the empty ones are left out.
#[must_use]
pub fn classes<const COUNT: usize>(of: [&str; COUNT]) -> Words {
    let given: Vec<&str> = of.into_iter().filter(|class| !class.is_empty()).collect();
    Words::Owned(given.join(" "))
}

/// A class, where it applies.
#[must_use]
pub fn when(applies: bool, class: &'static str) -> &'static str {
    if applies { class } else { "" }
}
