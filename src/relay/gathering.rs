//! The pieces of a series that were read so far.

use super::frame::{self, Fault, Frame, Series};

/// What became of a text that was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Heard {
    /// It is a further piece.
    New,
    /// That piece is here already.
    Known,
    /// It was the last one that was missing.
    All,
}

/// The pieces of one series. A piece of another one begins anew: the other phone shows something
/// else by now.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Gathering {
    series: Series,
    pieces: Vec<Option<Vec<u8>>>,
    here: usize,
}

impl Gathering {
    /// Whether nothing was read yet.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.here == 0
    }

    /// How many pieces are here, and of how many.
    #[must_use]
    pub fn progress(&self) -> (usize, usize) {
        (self.here, self.pieces.len())
    }

    /// Takes in what was read from one code.
    ///
    /// # Errors
    /// When it is no piece of a series.
    pub fn hear(&mut self, text: &str) -> Result<Heard, Fault> {
        let Frame {
            series,
            at,
            of,
            bytes,
        } = Frame::read(text)?;
        let (at, of) = (usize::from(at), usize::from(of));
        if (series, of) != (self.series, self.pieces.len()) {
            *self = Self {
                series,
                pieces: vec![None; of],
                here: 0,
            };
        }
        let piece = &mut self.pieces[at];
        if piece.is_some() {
            return Ok(Heard::Known);
        }
        *piece = Some(bytes);
        self.here += 1;
        Ok(if self.here == of {
            Heard::All
        } else {
            Heard::New
        })
    }

    /// What all the pieces carry, once none is missing and they belong together; the gathering is
    /// empty then.
    ///
    /// # Errors
    /// When pieces are missing, or were not cut from one whole.
    pub fn whole(&mut self) -> Result<Vec<u8>, Fault> {
        let Self { series, pieces, .. } = std::mem::take(self);
        let packed: Option<Vec<Vec<u8>>> = pieces.into_iter().collect();
        let packed = packed.ok_or(Fault::Damaged)?.concat();
        if frame::series(&packed) != series {
            return Err(Fault::Damaged);
        }
        Ok(packed)
    }
}
