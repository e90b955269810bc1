//! The patch cords at the fronts of positions.

use super::Registry;
use crate::domain::place::{Place, Position};
use crate::journal::register::Register;

impl Registry {
    /// What is recorded of the cord at the front of a position.
    #[must_use]
    pub fn cord(&self, at: Position) -> Option<&Register<Option<Place>>> {
        self.panels.get(at.panel)?.patched.get(&at.number)
    }

    /// Where anybody says that cord goes to.
    #[must_use]
    pub fn cord_goes_to(&self, at: Position) -> Vec<&Place> {
        let said = self.cord(at).map(Register::distinct).unwrap_or_default();
        said.into_iter().flatten().collect()
    }
}
