//! The list that is gone through before the walls of a room are closed.

use bothends::app::cover::{CoverForm, in_spite_of, ticked};
use bothends::app::wall::WallForm;
use bothends::app::{Action, Effect, Field, Form, Screen};
use bothends::command::Want;
use bothends::domain::ids::RoomId;
use bothends::domain::work::{CoverCheck, MarkKind, PullOutcome};
use bothends::query::cover::{self, CoverState, RoomToCover};

use super::phone::Phone;

impl Phone {
    fn covers(&mut self, form: CoverForm) {
        self.acts(Action::Submit(Form::Cover(form)));
    }

    fn to_cover(&self, room: RoomId) -> RoomToCover {
        let open = self.model.open.as_ref().expect("a job");
        cover::room(&open.journal, room).expect("a room with outlets")
    }

    fn ticked(&self, room: RoomId) -> Vec<CoverCheck> {
        ticked(&self.model.fields, &self.to_cover(room))
    }
}

/// A kitchen with a data outlet, its two cables not marked.
fn kitchen() -> (Phone, RoomId) {
    let mut phone = Phone::new();
    phone.model.person.initials = "T1".to_owned();
    let room = phone.room("Kitchen");
    phone.outlet(room, "data");
    phone.acts(Action::Go(Screen::Cover(room)));
    (phone, room)
}

#[test]
fn what_the_records_show_is_ticked_and_can_be_turned_over() {
    let (mut phone, room) = kitchen();
    assert_eq!(phone.ticked(room), []);
    let ends = phone.ends_of(room);
    phone.acts(Action::Do {
        want: Want::MarkEnds {
            ends,
            kind: MarkKind::Pen,
            copies: 3,
        },
        then: None,
    });
    assert_eq!(phone.ticked(room), [CoverCheck::Marked]);
    let tick = |check| CoverForm::Tick { room, check };
    phone.covers(tick(CoverCheck::Marked));
    phone.covers(tick(CoverCheck::NailPlates));
    assert_eq!(phone.ticked(room), [CoverCheck::NailPlates]);
    phone.covers(tick(CoverCheck::Marked));
    assert_eq!(
        phone.ticked(room),
        [CoverCheck::Marked, CoverCheck::NailPlates]
    );
    // Another room does not begin with the ticks of this one.
    let other = phone.room("Pantry");
    phone.sends(WallForm::AddOutlet {
        room: other,
        kind: bothends::domain::outlet_type::OutletKind::usual("data").expect("a usual type"),
    });
    assert_eq!(phone.ticked(other), []);
}

#[test]
fn one_tap_ticks_all_that_the_records_do_not_contradict() {
    let (mut phone, room) = kitchen();
    phone.covers(CoverForm::TickAll(room));
    // No box is noted here, so somebody has to say of the boxes by itself that they are in place.
    assert_eq!(phone.ticked(room), [CoverCheck::NailPlates]);
    let ends = phone.ends_of(room);
    let cables = ends.iter().map(|end| end.cable).collect();
    let outcome = PullOutcome::Pulled;
    let (kind, copies) = (MarkKind::Pen, 3);
    for want in [
        Want::ReportPull { cables, outcome },
        Want::MarkEnds { ends, kind, copies },
    ] {
        phone.acts(Action::Do { want, then: None });
    }
    // What was ticked by hand stays, and so does what the records show.
    let check = CoverCheck::Slack;
    phone.covers(CoverForm::Tick { room, check });
    phone.covers(CoverForm::TickAll(room));
    phone.covers(CoverForm::TickAll(room));
    let all = [
        CoverCheck::Counted,
        CoverCheck::Marked,
        CoverCheck::NailPlates,
        CoverCheck::Slack,
    ];
    assert_eq!(phone.ticked(room), all);
}

#[test]
fn another_count_wants_a_reason_and_what_was_typed_stays() {
    let (mut phone, room) = kitchen();
    for check in CoverCheck::ALL {
        phone.covers(CoverForm::Tick { room, check });
    }
    phone.types(Field::CoverCount, "three");
    phone.covers(CoverForm::Sign(room));
    assert!(
        phone.refusal().contains("“three” is no count"),
        "{}",
        phone.refusal()
    );
    phone.types(Field::CoverCount, "3");
    phone.covers(CoverForm::Sign(room));
    assert!(
        phone
            .refusal()
            .contains("counted 3, and the records have 2")
    );
    assert_eq!(phone.field(Field::CoverCount), "3");
    assert_eq!(phone.to_cover(room).state, CoverState::Open);
    phone.types(Field::CoverNote, "One of the alarm, by others");
    phone.covers(CoverForm::Sign(room));
    let said = phone.to_cover(room).ok_words();
    let CoverState::Ok { ok, .. } = phone.to_cover(room).state else {
        panic!("not signed: {:?}", phone.model.notice);
    };
    assert_eq!(
        said.as_deref(),
        Some(
            "OK to cover, 3 counted in spite of: counted 3 of 2, KIT1-A, KIT1-B not pulled (One of the alarm, by others)"
        )
    );
    assert_eq!((ok.counted, ok.checks.len()), (3, CoverCheck::ALL.len()));
    assert_eq!(phone.model.screen(), Some(Screen::Covers));
    assert_eq!(phone.field(Field::CoverNote), "");
    assert_eq!(phone.ticked(room), [], "the next list begins anew");
}

#[test]
fn an_ok_wants_initials_which_can_be_typed_there() {
    let (mut phone, room) = kitchen();
    phone.model.person.initials.clear();
    let check = CoverCheck::NailPlates;
    phone.covers(CoverForm::Tick { room, check });
    phone.types(Field::CoverNote, "Friday");
    phone.covers(CoverForm::Sign(room));
    assert!(
        phone.refusal().contains("Type your initials"),
        "{}",
        phone.refusal()
    );
    assert_eq!(phone.ticked(room), [check]);
    phone.types(Field::Initials, "a name much too long");
    phone.covers(CoverForm::Sign(room));
    assert!(phone.refusal().contains("12 at most"));
    assert_eq!(phone.field(Field::CoverNote), "Friday");
    phone.types(Field::Initials, "CD");
    phone.covers(CoverForm::Sign(room));
    let CoverState::Ok { who, .. } = phone.to_cover(room).state else {
        panic!("not signed: {:?}", phone.model.notice);
    };
    assert!(who.starts_with("CD, "), "{who}");
}

#[test]
fn what_nobody_ticked_is_not_recorded() {
    let (mut phone, room) = kitchen();
    phone.covers(CoverForm::Sign(room));
    assert!(phone.refusal().contains("KIT1-A, KIT1-B not pulled"));
    let check = CoverCheck::NailPlates;
    phone.covers(CoverForm::Tick { room, check });
    phone.types(Field::CoverNote, "One side stays open");
    phone.covers(CoverForm::Sign(room));
    let CoverState::Ok { ok, .. } = phone.to_cover(room).state else {
        panic!("not signed: {:?}", phone.model.notice);
    };
    assert_eq!((ok.counted, ok.checks), (0, vec![check]));
    let words = phone.to_cover(room).ok_words().expect("an OK");
    assert!(
        words.starts_with("OK to cover in spite of: KIT1-A"),
        "{words}"
    );
    assert!(words.contains("cables not counted, codes not looked at"));
    assert!(words.ends_with("(One side stays open)"), "{words}");
}

#[test]
fn one_tap_signs_in_spite_of_what_is_named() {
    let (mut phone, room) = kitchen();
    let offered = |phone: &Phone| in_spite_of(&phone.model.fields, &phone.to_cover(room));
    assert_eq!(offered(&phone), None, "nothing was looked at");
    let ends = phone.ends_of(room);
    let cables = ends.iter().map(|end| end.cable).collect();
    let outcome = PullOutcome::Pulled;
    let (kind, copies) = (MarkKind::Pen, 3);
    for want in [
        Want::ReportPull { cables, outcome },
        Want::MarkEnds { ends, kind, copies },
    ] {
        phone.acts(Action::Do { want, then: None });
    }
    phone.covers(CoverForm::TickAll(room));
    let missing = offered(&phone);
    assert_eq!(
        missing.as_deref(),
        Some("no photographs, boxes not seen in place, slack not noted")
    );
    phone.covers(CoverForm::InSpite(room));
    let said = phone.to_cover(room).ok_words();
    assert_eq!(
        said.as_deref(),
        Some(
            "OK to cover, 2 counted in spite of: no photographs, boxes not seen in place, slack not noted (left so on purpose)"
        )
    );
    // A reason that was typed stands in its place.
    for check in CoverCheck::ALL {
        phone.covers(CoverForm::Tick { room, check });
    }
    phone.types(Field::CoverNote, "Pictures come on Friday");
    phone.covers(CoverForm::InSpite(room));
    let said = phone.to_cover(room).ok_words().expect("an OK");
    assert!(said.ends_with("(Pictures come on Friday)"), "{said}");
}

#[test]
fn a_room_that_must_wait_says_why() {
    let (mut phone, room) = kitchen();
    phone.covers(CoverForm::NotYet(room));
    assert!(
        phone.refusal().contains("The reason is empty"),
        "{}",
        phone.refusal()
    );
    phone.types(Field::CoverNote, "The plumber comes back");
    phone.covers(CoverForm::NotYet(room));
    let state = phone.to_cover(room).state;
    assert_eq!(
        state,
        CoverState::NotYet("The plumber comes back".to_owned())
    );
}

#[test]
fn whoever_signs_without_a_word_is_led_to_the_field_for_it() {
    let (mut phone, room) = kitchen();
    phone.covers(CoverForm::TickAll(room));
    let signs = Action::Submit(Form::Cover(CoverForm::Sign(room)));
    let effects = phone.acts(signs);
    assert!(
        phone.refusal().contains("Say below in a few words"),
        "{}",
        phone.refusal()
    );
    assert_eq!(effects, [Effect::FocusField(Field::CoverNote)]);
    // So is whoever counted otherwise; what is no count is to be put right where it stands.
    let count = Field::CoverCount;
    for (typed, words, leads) in [
        (
            "9",
            "You counted 9",
            &[Effect::FocusField(Field::CoverNote)][..],
        ),
        ("many", "is no count", &[Effect::FocusField(count)]),
    ] {
        phone.types(count, typed);
        let signs = Action::Submit(Form::Cover(CoverForm::Sign(room)));
        assert_eq!(phone.acts(signs), leads);
        assert!(phone.refusal().contains(words), "{}", phone.refusal());
    }
}
