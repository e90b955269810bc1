//! What people do on the screens, without a browser.

mod apart;
mod asked;
/// The way back.
mod back;
/// The list before walls are closed.
mod cover;
mod crew;
/// Two put one crossed pair right.
mod crossed_twice;
/// Racks in a list, folded shut.
mod fields;
mod folded;
/// Taken away here, worked on there.
mod gone_meanwhile;
/// A cable schedule on its way in.
mod import;
/// The list of jobs.
mod jobs;
/// The punch list in words.
mod mend;
/// A job from nothing, step by step.
mod next_step;
mod noted_twice;
/// Taking a job off the device.
mod off;
/// What the tests of several screens do on a phone.
mod phone;
/// Pictures.
mod pictures;
/// The forms of planning.
mod plan;
/// The pull and the summary of the day.
mod pull;
/// One phone pulls anew what another works on.
mod pulled_anew;
/// The forms and ways of the rack.
mod rack;
/// The job that the browser tests of the rack start from.
mod rack_job;
/// Places typed for a tail, and its legs.
mod rack_places;
/// From phone to phone by codes.
mod relay;
mod remotes;
/// What is said of outlets at rough-in.
mod rough;
mod said_alike;
mod same_keeps;
mod scan;
/// What a person types at the scanner.
mod scan_typed;
/// The tags that the browser tests show to a camera.
mod tag_texts;
mod tags;
mod wall;
