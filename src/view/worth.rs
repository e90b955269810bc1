//! What may stand inside an element, or be the value of an attribute.

use super::{Node, Pen, Touch, Words};
use crate::domain::text::{is_hidden, visible};

/// What may stand inside an element.
pub trait Piece<M> {
    /// Puts it there.
    fn put(self, pen: &mut Pen<M>);
}

impl<M> Piece<M> for Node<M> {
    fn put(self, pen: &mut Pen<M>) {
        pen.node(self);
    }
}

impl<M> Piece<M> for &'static str {
    fn put(self, pen: &mut Pen<M>) {
        pen.say(self);
    }
}

impl<M> Piece<M> for Words {
    fn put(self, pen: &mut Pen<M>) {
        match self {
            Words::Borrowed(text) => text.put(pen),
            Words::Owned(text) => text.put(pen),
        }
    }
}

/// Text of the job, as people typed it or a file held it: nothing in it may hide or turn the words
/// round it.
impl<M> Piece<M> for String {
    fn put(self, pen: &mut Pen<M>) {
        let hides = self.chars().any(is_hidden);
        let shown = if hides { visible(&self) } else { self };
        pen.node(Node::Text(Words::Owned(shown)));
    }
}

impl<M> Piece<M> for &String {
    fn put(self, pen: &mut Pen<M>) {
        self.clone().put(pen);
    }
}

impl<M> Piece<M> for usize {
    fn put(self, pen: &mut Pen<M>) {
        self.to_string().put(pen);
    }
}

impl<M> Piece<M> for u16 {
    fn put(self, pen: &mut Pen<M>) {
        usize::from(self).put(pen);
    }
}

impl<M> Piece<M> for u8 {
    fn put(self, pen: &mut Pen<M>) {
        usize::from(self).put(pen);
    }
}

/// What is not there keeps its place, so that its neighbours stay what they are when it comes: the
/// button that has the focus keeps it.
impl<M, P: Piece<M>> Piece<M> for Option<P> {
    fn put(self, pen: &mut Pen<M>) {
        match self {
            Some(piece) => piece.put(pen),
            None => pen.node(Node::Nothing),
        }
    }
}

/// What may be the value of an attribute.
pub trait Worth<M> {
    /// Gives the open element the attribute.
    fn set(self, name: &'static str, pen: &mut Pen<M>);
}

impl<M> Worth<M> for &'static str {
    fn set(self, name: &'static str, pen: &mut Pen<M>) {
        pen.word(name, self);
    }
}

impl<M> Worth<M> for Words {
    fn set(self, name: &'static str, pen: &mut Pen<M>) {
        pen.words(name, self);
    }
}

impl<M> Worth<M> for String {
    fn set(self, name: &'static str, pen: &mut Pen<M>) {
        pen.words(name, Words::Owned(self));
    }
}

/// An attribute that is there or not, such as `disabled`.
impl<M> Worth<M> for bool {
    fn set(self, name: &'static str, pen: &mut Pen<M>) {
        if self {
            pen.word(name, name);
        }
    }
}

impl<M, W: Worth<M>> Worth<M> for Option<W> {
    fn set(self, name: &'static str, pen: &mut Pen<M>) {
        if let Some(value) = self {
            value.set(name, pen);
        }
    }
}

impl<M> Worth<M> for Touch<M> {
    fn set(self, name: &'static str, pen: &mut Pen<M>) {
        debug_assert_eq!(name, self.attribute());
        pen.touch(self);
    }
}

impl<M> Touch<M> {
    /// The attribute that such a touch is written as.
    #[must_use]
    pub fn attribute(&self) -> &'static str {
        match self {
            Self::Tap(_) | Self::Placed(_) => "onclick",
            Self::Typed(_) => "oninput",
            Self::Chosen(_) => "onchange",
            Self::Sent(_) => "onsubmit",
        }
    }
}
