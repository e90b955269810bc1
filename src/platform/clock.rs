//! The time of day, as the device has it.

/// Milliseconds since 1970-01-01 00:00 UTC by the device's clock, which may be wrong.
#[expect(
    clippy::disallowed_methods,
    reason = "the one place that reads the time"
)]
#[must_use]
pub fn now_ms() -> u64 {
    // `Date.now()` is a whole number below 2^53; a clock set before 1970 counts as 1970.
    js_sys::Date::now() as u64
}
