//! What stands on tags, panels and plates, as text: the forms that are printed, read strictly or
//! typed, the text in a QR code with its check character, the square matrix for it, and the
//! codes that are proposed for new rooms.
//!
//! The types of the codes belong to the domain. This module knows how they are spelled, and
//! nothing of the registry: whether a code exists in the job is asked elsewhere.

/// The check character of a tag's text.
pub mod check;
/// The code of one leg of a split end.
pub mod leg;
/// Codes for new rooms, from their names.
pub mod propose;
/// The square matrix of a QR code.
pub mod qr;
/// The printed forms, each with one reading.
pub mod strict;
/// The text in a tag's QR code.
pub mod tag;
/// What a person may have meant by what was typed.
pub mod typed;
