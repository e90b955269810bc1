//! Building drawings as they are written with [`markup!`].

use super::{Element, Node, Piece, Touch, Words, Worth};

/// Draws elements into each other. The calls are many and small, so none of them is compiled into
/// the place that makes it.
pub struct Pen<M> {
    /// The elements that are not closed yet, the outermost first. The first stands for the drawing.
    open: Vec<Element<M>>,
}

impl<M> Pen<M> {
    /// A pen over an empty drawing. It lies on the heap, so that every call of it gives one pointer.
    #[inline(never)]
    #[must_use]
    pub fn new() -> Box<Self> {
        Box::new(Self {
            open: vec![empty("")],
        })
    }

    /// Begins an element. One without a name stands for its parts: together they keep one place
    /// among their neighbours, however many there are, so that a field that somebody types in stays
    /// the same field when a sentence comes or goes above it.
    #[inline(never)]
    pub fn open(&mut self, tag: &'static str) {
        self.open.push(empty(tag));
    }

    /// Ends the element that was begun last.
    #[inline(never)]
    pub fn shut(&mut self) {
        if self.open.len() > 1
            && let Some(element) = self.open.pop()
        {
            self.node(if element.tag.is_empty() {
                Node::Several(element.inside)
            } else {
                Node::Element(Box::new(element))
            });
        }
    }

    /// Ends the element that was begun last, which must be of this name.
    #[inline]
    pub fn close(&mut self, tag: &'static str) {
        let begun = self.open.last();
        debug_assert_eq!(begun.map(|element| element.tag), Some(tag));
        self.shut();
    }

    /// Gives the open element an attribute.
    #[inline(never)]
    pub fn word(&mut self, name: &'static str, value: &'static str) {
        self.words(name, Words::Borrowed(value));
    }

    /// Gives the open element an attribute.
    #[inline(never)]
    pub fn words(&mut self, name: &'static str, value: Words) {
        if let Some(element) = self.open.last_mut() {
            element.attributes.push((name, value));
        }
    }

    /// Gives the open element an attribute, where the value says so.
    #[inline]
    pub fn set(&mut self, name: &'static str, value: impl Worth<M>) {
        value.set(name, self);
    }

    /// Says what a touch of the open element means.
    #[inline(never)]
    pub fn touch(&mut self, touch: Touch<M>) {
        if let Some(element) = self.open.last_mut() {
            element.touches.push(touch);
        }
    }

    /// Tells the open element from its neighbours.
    #[inline(never)]
    pub fn key(&mut self, key: impl Into<Words>) {
        if let Some(element) = self.open.last_mut() {
            element.key = Some(key.into());
        }
    }

    /// Puts something inside the open element.
    #[inline]
    pub fn put(&mut self, piece: impl Piece<M>) {
        piece.put(self);
    }

    /// Puts text inside the open element.
    #[inline(never)]
    pub fn say(&mut self, words: &'static str) {
        self.node(Node::Text(Words::Borrowed(words)));
    }

    /// Puts a drawing inside the open element.
    #[inline(never)]
    pub fn node(&mut self, node: Node<M>) {
        if let Some(element) = self.open.last_mut() {
            element.inside.push(node);
        }
    }

    /// The drawing.
    #[expect(
        clippy::boxed_local,
        reason = "the pen came as one pointer and goes as one"
    )]
    #[inline(never)]
    #[must_use]
    pub fn done(mut self: Box<Self>) -> Node<M> {
        debug_assert_eq!(self.open.len(), 1, "an element is not closed");
        let mut inside = self.open.swap_remove(0).inside;
        if inside.len() == 1 {
            inside.swap_remove(0)
        } else {
            Node::Several(inside)
        }
    }
}

fn empty<M>(tag: &'static str) -> Element<M> {
    Element {
        tag,
        key: None,
        attributes: Vec::new(),
        touches: Vec::new(),
        inside: Vec::new(),
    }
}

/// Writes a drawing as HTML is written. Inside stand elements, `{ value }`, `{ for values }` and
/// `if condition { … } else { … }`; an attribute is a text or `{ value }`, and `key={ … }` tells an
/// element from its neighbours.
macro_rules! markup {
    () => { $crate::view::Node::Nothing };
    ($($body:tt)+) => {{
        let mut pen = $crate::view::Pen::new();
        $crate::view::markup_into!(pen; $($body)+);
        pen.done()
    }};
}

/// Draws with a pen; [`markup!`] makes one first.
macro_rules! markup_into {
    ($pen:ident;) => {};

    // Elements.
    ($pen:ident; < / > $($rest:tt)*) => {
        $pen.close("");
        $crate::view::markup_into!($pen; $($rest)*);
    };
    ($pen:ident; < > $($rest:tt)*) => {
        $pen.open("");
        $crate::view::markup_into!($pen; $($rest)*);
    };
    ($pen:ident; < / $tag:ident > $($rest:tt)*) => {
        $pen.close(stringify!($tag));
        $crate::view::markup_into!($pen; $($rest)*);
    };
    ($pen:ident; < $tag:ident $($rest:tt)*) => {
        $pen.open(stringify!($tag));
        $crate::view::markup_into!(@attributes $pen; $($rest)*);
    };

    // Attributes.
    (@attributes $pen:ident; / > $($rest:tt)*) => {
        $pen.shut();
        $crate::view::markup_into!($pen; $($rest)*);
    };
    (@attributes $pen:ident; > $($rest:tt)*) => { $crate::view::markup_into!($pen; $($rest)*); };
    (@attributes $pen:ident; key = { $value:expr } $($rest:tt)*) => {
        $pen.key($value);
        $crate::view::markup_into!(@attributes $pen; $($rest)*);
    };
    (@attributes $pen:ident; $name:ident = $value:literal $($rest:tt)*) => {
        $pen.word(stringify!($name), $value);
        $crate::view::markup_into!(@attributes $pen; $($rest)*);
    };
    (@attributes $pen:ident; $name:ident = { $value:expr } $($rest:tt)*) => {
        $pen.set(stringify!($name), $value);
        $crate::view::markup_into!(@attributes $pen; $($rest)*);
    };
    (@attributes $pen:ident; $name:ident - $more:ident = $value:literal $($rest:tt)*) => {
        $pen.word(concat!(stringify!($name), "-", stringify!($more)), $value);
        $crate::view::markup_into!(@attributes $pen; $($rest)*);
    };
    (@attributes $pen:ident; $name:ident - $more:ident = { $value:expr } $($rest:tt)*) => {
        $pen.set(concat!(stringify!($name), "-", stringify!($more)), $value);
        $crate::view::markup_into!(@attributes $pen; $($rest)*);
    };

    // What stands inside.
    ($pen:ident; { for $pieces:expr } $($rest:tt)*) => {
        $pen.open("");
        for piece in $pieces { $pen.put(piece); }
        $pen.shut();
        $crate::view::markup_into!($pen; $($rest)*);
    };
    ($pen:ident; { $words:literal } $($rest:tt)*) => {
        $pen.say($words);
        $crate::view::markup_into!($pen; $($rest)*);
    };
    ($pen:ident; { $piece:expr } $($rest:tt)*) => {
        $pen.put($piece);
        $crate::view::markup_into!($pen; $($rest)*);
    };
    ($pen:ident; if $($rest:tt)+) => { $crate::view::markup_into!(@if $pen [] $($rest)+); };
    (@if $pen:ident [$($condition:tt)+] { $($then:tt)* } else { $($other:tt)* } $($rest:tt)*) => {
        $pen.open("");
        if $($condition)+ {
            $crate::view::markup_into!($pen; $($then)*);
        } else {
            $crate::view::markup_into!($pen; $($other)*);
        }
        $pen.shut();
        $crate::view::markup_into!($pen; $($rest)*);
    };
    (@if $pen:ident [$($condition:tt)+] { $($then:tt)* } $($rest:tt)*) => {
        $pen.open("");
        if $($condition)+ {
            $crate::view::markup_into!($pen; $($then)*);
        }
        $pen.shut();
        $crate::view::markup_into!($pen; $($rest)*);
    };
    (@if $pen:ident [$($condition:tt)*] $next:tt $($rest:tt)*) => {
        $crate::view::markup_into!(@if $pen [$($condition)* $next] $($rest)*);
    };
}

pub(crate) use {markup, markup_into};
