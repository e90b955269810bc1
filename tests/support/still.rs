//! A clock that stands still, and dice that count.

use std::cell::Cell;

use bothends::app::World;
use bothends::domain::ids::Bits80;
use bothends::journal::WallTime;

/// The same in every run.
pub(crate) struct Still {
    wall: WallTime,
    dice: Cell<u8>,
}

impl Still {
    /// The time that it shows, and the number after which the dice count on.
    pub(crate) fn at(wall: WallTime, dice: u8) -> Self {
        let dice = Cell::new(dice);
        Self { wall, dice }
    }
}

impl World for Still {
    fn now(&self) -> WallTime {
        self.wall
    }

    fn bits(&self) -> Bits80 {
        self.dice.set(self.dice.get() + 1);
        Bits80([self.dice.get(); 10])
    }
}
