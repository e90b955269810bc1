//! The stored form both ways: whatever the working types allow comes back as it was.

use bothends::journal::wire;
use proptest::prelude::*;

use super::made::any_act;
use crate::support::seeds::runner;

#[test]
fn any_act_comes_back_from_its_line_and_gives_the_same_line_again() {
    let checked = runner(2_000).run(&any_act(), |act| {
        let line = wire::write(&act);
        prop_assert!(!line.contains('\n') && !line.contains('\r'), "one line");
        let read = wire::read(&line).map_err(|error| TestCaseError::fail(error.to_string()))?;
        prop_assert_eq!(&read, &act);
        prop_assert_eq!(wire::write(&read), line);
        Ok(())
    });
    if let Err(failure) = checked {
        panic!("{failure}");
    }
}
