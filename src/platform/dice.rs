//! Random bits from the browser's cryptographic source.

use super::{browser, trouble};
use crate::app::ports::Trouble;

/// Eighty random bits, enough for ids that are never told to each other.
///
/// # Errors
///
/// The browser has no such source. There is no second choice: a repeated id would mix up two
/// writers.
pub fn bits80() -> Result<[u8; 10], Trouble> {
    let crypto = browser::window()
        .ok_or_else(|| Trouble::Other("there is no window".to_owned()))?
        .crypto()
        .map_err(|thrown| trouble::from_js(&thrown))?;
    let mut bits = [0; 10];
    crypto
        .get_random_values_with_u8_array(&mut bits)
        .map_err(|thrown| trouble::from_js(&thrown))?;
    Ok(bits)
}
