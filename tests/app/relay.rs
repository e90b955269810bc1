//! From phone to phone without a file: one shows what is here, the other what that lacks, and both
//! have everything then.

use bothends::app::relay::{Part, RelayAction};
use bothends::app::scan::{Abilities, ScanAction};
use bothends::app::tags::{Paper, TagAction};
use bothends::app::{Action, Effect, Notice, Screen};
use bothends::relay::{pack, unpack};

use super::crew::{adds_outlet, records, two};
use super::phone::Phone;

/// The text that a phone has made into codes.
fn shown(effects: &[Effect]) -> String {
    let found = effects.iter().find_map(|effect| match effect {
        Effect::Papers {
            what: Paper::Series,
            order,
        } => Some(order.clone()),
        _ => None,
    });
    found.expect("a series")
}

fn shows(phone: &mut Phone, action: RelayAction) -> String {
    shown(&phone.acts(Action::Relay(action)))
}

/// Scans a whole series, and lets come what was packed into it.
fn scans(phone: &mut Phone, text: &str) -> Vec<Effect> {
    phone.acts(Action::Go(Screen::Scan));
    let mut effects = Vec::new();
    for code in pack(text).expect("short").iter().rev() {
        let able = Abilities::default();
        phone.acts(Action::Scan(ScanAction::Started(Ok(able))));
        let read = ScanAction::Read(vec![code.clone()]);
        effects = phone.acts(Action::Scan(read));
    }
    let packed = effects.iter().find_map(|effect| match effect {
        Effect::Unpack(packed) => Some(packed.clone()),
        _ => None,
    });
    let text = unpack(&packed.expect("the last code makes it whole")).expect("a text");
    phone.acts(Action::Relay(RelayAction::Unpacked(Ok(Some(text)))))
}

#[test]
fn a_phone_shows_what_the_other_lacks_and_nothing_else() {
    let (mut first, mut second) = two();
    adds_outlet(&mut first);
    adds_outlet(&mut first);
    let known = shows(&mut second, RelayAction::ShowKnown);
    assert!(known.starts_with("bothends-known 1 "), "{known}");
    let effects = scans(&mut first, &known);
    assert_eq!(first.model.screen(), Some(Screen::Crew));
    let showing = first.model.relay.showing.as_ref().expect("codes");
    assert_eq!(showing.what, "2 records: what the other phone lacks");
    let before = records(&second);
    scans(&mut second, &shown(&effects));
    assert_eq!(second.model.screen(), Some(Screen::Incoming));
    assert_eq!(records(&second), before);
    second.acts(Action::TakeIn);
    assert_eq!(records(&second), before + 2);

    // Once more: nothing is lacking.
    let known = shows(&mut second, RelayAction::ShowKnown);
    scans(&mut first, &known);
    let words = "The other phone has everything that is here.";
    assert_eq!(first.model.notice, Some(Notice::Told(words.to_owned())));
}

#[test]
fn what_was_done_today_is_a_job_file_with_those_lines_alone() {
    let (mut first, _) = two();
    let text = shows(&mut first, RelayAction::Show(Part::Today));
    let read = bothends::exchange::jobfile::read(text.as_bytes());
    assert_eq!(read.findings, []);
    assert_eq!(read.lines.len(), records(&first));
}

#[test]
fn codes_go_round_while_somebody_looks_and_stand_still_when_told() {
    let (mut first, _) = two();
    first.acts(Action::Go(Screen::Crew));
    shows(&mut first, RelayAction::Show(Part::All));
    let lines = b"21 M0 0h7\n21 M1 0h7\n21 M2 0h7\n".to_vec();
    let came = TagAction::Came(Paper::Series, Ok(Some(lines)));
    let effects = first.acts(Action::Tags(came));
    let tick = |effects: &[Effect]| match effects {
        [Effect::NextCode { run, after }] => Some((*run, *after)),
        _ => None,
    };
    let at = |phone: &Phone| phone.model.relay.showing.as_ref().expect("codes").at;
    let (run, after) = tick(&effects).expect("it runs");
    assert_eq!(after, 200);
    for expected in [1, 2, 0] {
        let effects = first.acts(Action::Relay(RelayAction::Next(run)));
        assert_eq!((at(&first), tick(&effects)), (expected, Some((run, 200))));
    }
    assert_eq!(first.acts(Action::Relay(RelayAction::Hold(true))), []);
    // What was on its way comes to nothing.
    assert_eq!(first.acts(Action::Relay(RelayAction::Next(run))), []);
    assert_eq!(at(&first), 0);
    let effects = first.acts(Action::Relay(RelayAction::Hold(false)));
    let (later, _) = tick(&effects).expect("it goes on");
    let effects = first.acts(Action::Relay(RelayAction::Slow(true)));
    assert_eq!(tick(&effects).map(|(_, after)| after), Some(500));
    assert_eq!(first.acts(Action::Relay(RelayAction::Next(later))), []);
    // It rests while another screen is there, and goes on afterwards.
    let (run, _) = tick(&effects).expect("it goes on");
    first.acts(Action::Go(Screen::Job));
    assert_eq!(first.acts(Action::Relay(RelayAction::Next(run))), []);
    let effects = first.acts(Action::Go(Screen::Crew));
    assert!(
        effects
            .iter()
            .any(|effect| matches!(effect, Effect::NextCode { .. }))
    );
    // Where something was done meanwhile, they would be without it.
    first.acts(Action::Go(Screen::Job));
    first.room("Attic");
    first.acts(Action::Go(Screen::Crew));
    assert_eq!(first.model.relay.showing, None);
}

#[test]
fn what_another_job_has_is_no_answer_here() {
    let (mut first, _) = two();
    let text = "bothends-known 1 9NGQ4WKFEX6PJV3C\n";
    scans(&mut first, text);
    let Some(Notice::Told(words)) = &first.model.notice else {
        panic!("nothing is said");
    };
    assert!(words.contains("another job"), "{words}");
}
