//! The forms of the rack: what was typed becomes a landing, or a sentence, and nothing is lost.

use bothends::app::{
    Action, Effect, Field, Fields, Form, Model, Notice, OpenJob, RackForm, Route, Screen, stretch,
    update,
};
use bothends::command::{Correction, Want};
use bothends::domain::medium::{Kind, Medium};
use bothends::domain::place::{End, Face, Fitting, Place, Side};
use bothends::journal::WallTime;
use bothends::query::rack::{SlotState, Stretch};
use bothends::query::rack::{landed_place, slot, slots};

use crate::mill::{Mill, number};
use crate::support::still::Still;

/// The app with a job open at its racks.
struct Bench {
    model: Model,
    world: Still,
}

impl Bench {
    fn open(mill: Mill) -> Self {
        let job = mill.journal.job();
        let model = Model {
            open: Some(OpenJob::new(mill.journal)),
            route: Route::Job {
                job,
                screen: Screen::Rack,
            },
            ..Model::default()
        };
        Self {
            model,
            world: Still::at(WallTime(1_772_409_600_000), 9),
        }
    }

    fn lets(&mut self, action: Action) -> Vec<Effect> {
        update(&mut self.model, action, &self.world)
    }

    fn types(&mut self, field: Field, text: &str) {
        let text = text.to_owned();
        self.lets(Action::Typed { field, text });
    }

    fn sends(&mut self, form: RackForm) -> Vec<Effect> {
        self.lets(Action::Submit(Form::Rack(form)))
    }

    /// What the bar says.
    fn says(&self) -> String {
        match &self.model.notice {
            None => String::new(),
            Some(
                Notice::Done { words, .. } | Notice::Told(words) | Notice::Asked { words, .. },
            ) => words.clone(),
            Some(Notice::Refused(refusal)) => format!("refused: {}", refusal.words),
            Some(Notice::Trouble(trouble)) => format!("trouble: {trouble}"),
        }
    }
}

fn saves(effects: &[Effect]) -> bool {
    effects
        .iter()
        .any(|effect| matches!(effect, Effect::Save(_)))
}

fn planned() -> Mill {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 10);
    mill.fill("B");
    mill
}

#[test]
fn twelve_positions_are_landed_as_listed_and_the_next_stretch_follows() {
    let mill = planned();
    let (b, last) = (mill.panel_id("B"), mill.far("KIT6-B"));
    let b12 = Place::rear(mill.position("B12"));
    let mut bench = Bench::open(mill);
    assert!(saves(&bench.sends(RackForm::LandStretch(b))));
    assert_eq!(bench.says(), "12 ends landed.");
    let registry = bench.model.registry().expect("a job");
    assert_eq!(landed_place(registry, last), Some(&b12));
    let next = stretch(&bench.model.fields, b, &slots(registry, b));
    let expected = Stretch {
        from: number(13),
        to: number(20),
    };
    assert_eq!(next, Some(expected));
    assert!(saves(&bench.sends(RackForm::LandStretch(b))));
    assert_eq!(bench.says(), "8 ends landed.");
    assert!(bench.sends(RackForm::LandStretch(b)).is_empty());
    assert!(
        bench
            .says()
            .starts_with("refused: On these positions nothing is listed")
    );
}

#[test]
fn a_chosen_stretch_counts_on_its_own_panel_in_either_direction() {
    let mill = planned();
    let slots = slots(mill.registry(), mill.panel_id("B"));
    let [b, c] = ["B", "C"].map(|letters| mill.panel_id(letters));
    let mut fields = Fields::default();
    let at = |fields: &Fields, panel| {
        let stretch = stretch(fields, panel, &slots)?;
        Some((stretch.from.get(), stretch.to.get()))
    };
    for (from, to, expected) in [
        ("", "", (1, 12)),
        ("B05", "", (5, 16)),
        ("B05", "B07", (5, 7)),
        ("B07", "B05", (5, 7)),
        ("", "B03", (1, 3)),
        ("B24", "", (24, 24)),
    ] {
        for (field, code) in [(Field::RangeFrom, from), (Field::RangeTo, to)] {
            let text = match code {
                "" => String::new(),
                code => Fields::position_text(mill.position(code)),
            };
            fields.set(field, text);
        }
        assert_eq!(at(&fields, b), Some(expected), "{from} {to}");
        assert_eq!(at(&fields, c), Some((1, 12)), "another panel");
    }
}

#[test]
fn the_end_of_a_stretch_that_nobody_chose_stays_where_it_is_shown() {
    let mill = Mill::new();
    let panel = mill.panel_id("B");
    let slots = slots(mill.registry(), panel);
    for (field, code, expected) in [
        (Field::RangeTo, "B07", (1, 7)),
        (Field::RangeFrom, "B05", (5, 24)),
    ] {
        let mut fields = Fields::default();
        fields.set(field, Fields::position_text(mill.position(code)));
        let stretch = stretch(&fields, panel, &slots).expect("a stretch");
        assert_eq!((stretch.from.get(), stretch.to.get()), expected);
    }
}

#[test]
fn a_typed_code_lands_and_a_second_claim_is_refused_with_a_way_out() {
    let mut mill = planned();
    mill.land("KIT1-A", "B07");
    let (b7, b9) = (mill.position("B07"), mill.position("B09"));
    let [first, second] = ["KIT1-A", "KIT2-B"].map(|code| mill.far(code));
    let mut bench = Bench::open(mill);
    bench.types(Field::LandCode, "kit 2 b");
    assert!(bench.sends(RackForm::LandHere(b7)).is_empty());
    assert!(
        bench
            .says()
            .starts_with("refused: B07 is taken: KIT1-A is landed there since 2026-03-02 by MW."),
        "{}",
        bench.says()
    );
    assert_eq!(bench.model.fields.get(Field::LandCode), "kit 2 b");
    let Some(Notice::Refused(refusal)) = bench.model.notice.clone() else {
        panic!("refused");
    };
    let way = &refusal.ways_out[0];
    assert!(way.label.contains("KIT2-B is here, I see it"));
    let want = (*way.want).clone();
    assert!(saves(&bench.lets(Action::Do { want, then: None })));
    let registry = bench.model.registry().expect("a job");
    assert_eq!(landed_place(registry, second), Some(&Place::rear(b7)));
    assert_eq!(landed_place(registry, first), None);
    assert_eq!(slot(registry, b7).state, SlotState::Landed);

    bench.types(Field::LandCode, "KIT3-A");
    assert!(saves(&bench.sends(RackForm::LandHere(b9))));
    assert_eq!(bench.says(), "KIT3-A is landed on B09.");
    assert_eq!(bench.model.fields.get(Field::LandCode), "");
}

#[test]
fn a_crossed_pair_is_put_right_at_the_rack_by_the_code_of_the_other_cable() {
    let mut mill = planned();
    mill.rack(2, "A", "Loft rack");
    mill.does(&Want::AddTie {
        near: mill.rack_id("1A"),
        far: mill.rack_id("2A"),
        medium: Medium::indoor(Kind::Cat6Utp),
        purpose: String::new(),
    });
    mill.land("KIT1-A", "B07");
    let (kit1, kit2) = (mill.far("KIT1-A"), mill.far("KIT2-B"));
    let tie = End::whole(mill.cable("1A/2A-1"), Side::Near);
    let b7 = Place::rear(mill.position("B07"));
    let record = RackForm::Crossed(kit1, Correction::RecordChanges);
    let mut bench = Bench::open(mill);
    let code = Effect::FocusField(Field::LandCode);
    assert_eq!(bench.sends(record), [code]);
    assert!(bench.says().contains("Write the code"), "{}", bench.says());
    bench.types(Field::LandCode, "kit1a");
    assert!(bench.sends(record).is_empty());
    assert!(bench.says().contains("two cables"), "{}", bench.says());
    bench.types(Field::LandCode, "kit 2 b");
    assert!(saves(&bench.sends(record)));
    assert_eq!(
        bench.says(),
        "KIT1-A and KIT2-B: the record is changed over; see that each tag there is right."
    );
    let registry = bench.model.registry().expect("a job");
    assert_eq!(landed_place(registry, kit2), Some(&b7));
    assert_eq!(landed_place(registry, kit1), None);
    // Of a tie line the end is meant that comes to this rack.
    bench.types(Field::LandCode, "1A/2A-1");
    let with_tie = RackForm::Crossed(kit2, Correction::RecordChanges);
    assert!(saves(&bench.sends(with_tie)));
    let registry = bench.model.registry().expect("a job");
    assert_eq!(landed_place(registry, tie), Some(&b7));
    // Nothing is recorded of either: only the tags can be at fault.
    bench.types(Field::LandCode, "KIT2-B");
    assert!(bench.sends(record).is_empty());
    assert!(bench.says().contains("Change the tags"), "{}", bench.says());
    let tags = RackForm::Crossed(kit1, Correction::TagsMove);
    assert!(saves(&bench.sends(tags)));
    assert_eq!(
        bench.says(),
        "KIT1-A and KIT2-B: the tags are changed over."
    );
    assert_eq!(bench.model.fields.get(Field::LandCode), "");
}

#[test]
fn what_cannot_be_read_is_said_and_stays_in_its_field() {
    let mut mill = planned();
    mill.does(&Want::RouteLocal {
        cable: mill.cable("KIT9-A"),
        from: mill.outlet_id("KIT", 3),
    });
    let (b24, kit1) = (mill.position("B24"), mill.far("KIT1-A"));
    let mut bench = Bench::open(mill);
    for (form, field, text, words) in [
        (
            RackForm::LandHere(b24),
            Field::LandCode,
            "",
            "Write the code",
        ),
        (
            RackForm::LandHere(b24),
            Field::LandCode,
            "DIN4-A",
            "No cable of this job is called “DIN4-A”",
        ),
        (
            RackForm::LandHere(b24),
            Field::LandCode,
            "kit2",
            "KIT2 is an outlet. Write which of its cables it is: KIT2-A",
        ),
        (
            RackForm::LandHere(b24),
            Field::LandCode,
            "kit9a",
            "KIT9-A is a local run from KIT3 to KIT9",
        ),
        (
            RackForm::LandAt(kit1),
            Field::LandPosition,
            "",
            "Write the position",
        ),
        (
            RackForm::LandAt(kit1),
            Field::LandPosition,
            "X7",
            "There is no panel X in this job",
        ),
        (
            RackForm::LandAt(kit1),
            Field::LandPosition,
            "B25",
            "Panel B has 24 positions; there is no number 25",
        ),
        (
            RackForm::Reserve(b24),
            Field::Reason,
            " ",
            "Say in a few words why",
        ),
        (RackForm::Dead(kit1), Field::Reason, "", "The reason why"),
    ] {
        bench.types(field, text);
        // What is written well and cannot be so leads nowhere.
        let leads = Effect::FocusField(field);
        let mut effects = bench.sends(form).into_iter();
        assert!(effects.all(|effect| effect == leads), "{form:?} {text}");
        let said = bench.says();
        assert!(said.starts_with(&format!("refused: {words}")), "{said}");
        assert_eq!(bench.model.fields.get(field), text);
    }
}

#[test]
fn a_tail_is_landed_elsewhere_or_left_on_purpose_and_the_keypad_comes_back() {
    let mill = planned();
    let [kit1, kit2] = ["KIT1-A", "KIT2-A"].map(|code| mill.far(code));
    let b23 = Place::rear(mill.position("B23"));
    let mut bench = Bench::open(mill);
    bench.lets(Action::Go(Screen::HandCable(kit1.cable)));
    bench.types(Field::LandPosition, "1a-b23");
    assert!(saves(&bench.sends(RackForm::LandAt(kit1))));
    assert_eq!(bench.model.screen(), Some(Screen::Hand));
    let registry = bench.model.registry().expect("a job");
    assert_eq!(landed_place(registry, kit1), Some(&b23));

    bench.lets(Action::Go(Screen::HandCable(kit2.cable)));
    bench.types(Field::Reason, "second display later");
    bench.types(Field::Kept, "coil above the rack");
    assert!(saves(&bench.sends(RackForm::Spare(kit2))));
    assert_eq!(bench.says(), "KIT2-A at Main rack is spare.");
    assert_eq!(bench.model.screen(), Some(Screen::Hand));
}

#[test]
fn the_keypad_starts_anew_once_a_cable_is_found() {
    let mill = planned();
    let (cable, panel) = (mill.cable("KIT2-A"), mill.panel_id("B"));
    let mut bench = Bench::open(mill);
    for typed in ["", "KIT"] {
        let key = Action::Typed {
            field: Field::Hand,
            text: typed.to_owned(),
        };
        let focus = Effect::FocusField(Field::Hand);
        assert_eq!(
            bench.lets(key).last(),
            Some(&focus),
            "the keyboard stays on the keypad"
        );
    }
    assert_eq!(bench.model.screen(), Some(Screen::Hand));
    assert_eq!(bench.model.fields.get(Field::Hand), "KIT");
    bench.lets(Action::Go(Screen::HandCable(cable)));
    assert_eq!(bench.model.fields.get(Field::Hand), "");

    // A chosen position is another heading, which the page is told to show, and an address.
    let position = bothends::domain::place::Position {
        panel,
        number: number(7),
    };
    let screen = Screen::Position {
        position,
        face: Face::Rear,
    };
    let effects = bench.lets(Action::Go(screen));
    assert!(matches!(
        effects.as_slice(),
        [Effect::FocusHeading, Effect::SetHash(_)]
    ));
    assert_eq!(bench.model.screen(), Some(screen));
}

#[test]
fn a_misfit_takes_one_more_tap_with_an_adapter() {
    let mut mill = planned();
    mill.outlets("KITS", "tv", 1);
    let (end, b24) = (mill.far("KITS1-D"), mill.position("B24"));
    let mut bench = Bench::open(mill);
    bench.types(Field::LandCode, "kits1d");
    assert!(bench.sends(RackForm::LandHere(b24)).is_empty());
    let Some(Notice::Refused(refusal)) = bench.model.notice.clone() else {
        panic!("refused");
    };
    let [way] = refusal.ways_out.as_slice() else {
        panic!("one way out: {refusal:?}");
    };
    let adapter = Want::Land {
        end,
        place: Place::rear(b24),
        fitting: Fitting::Adapter,
    };
    assert_eq!(*way.want, adapter);
    let want = adapter;
    assert!(saves(&bench.lets(Action::Do { want, then: None })));
}
