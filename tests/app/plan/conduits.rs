//! Conduits: added, opened in their list, and cables put into them.

use bothends::app::plan::{PlanForm, Planned, is_open};
use bothends::app::{Action, Effect, Field, FindForm, Form, Notice, Screen};
use bothends::domain::place::ConduitEnd;
use bothends::query::conduit::conduits;
use bothends::ui;

use super::Bench;
use crate::mill::Mill;

#[test]
fn a_conduit_is_added_between_what_its_ends_are_called_and_changed() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 2);
    let mut bench = Bench::open(mill, Screen::Racks);
    let kitchen = bench.registry().outlets.iter();
    let kitchen: Vec<_> = kitchen.map(|(id, _)| id).collect();
    let ends = |bench: &Bench, code: &str| {
        let all = conduits(bench.registry());
        let line = all.iter().find(|line| line.code == code).expect("one");
        let row = bench.registry().conduits.get(line.id).expect("a row");
        let [from, to] = [0, 1].map(|end: usize| row.ends[end].get().cloned());
        (line.id, line.words.clone(), from, to)
    };
    assert!(
        bench
            .sends(PlanForm::LayConduit)
            .starts_with("refused: Say where")
    );
    bench.types(Field::ConduitFrom, "kit 1");
    bench.types(Field::ConduitTo, "1a");
    bench.types(Field::ConduitSize, "25 mm");
    bench.types(Field::ConduitNumber, "x");
    let refused = bench.sends(PlanForm::LayConduit);
    assert!(
        refused.contains("“X” is no number of a conduit"),
        "{refused}"
    );
    assert_eq!(bench.field(Field::ConduitFrom), "kit 1");
    bench.types(Field::ConduitNumber, "cd 7");
    assert_eq!(bench.sends(PlanForm::LayConduit), "CD7 is kept.");
    assert_eq!(bench.field(Field::ConduitSize), "");
    let (conduit, words, from, to) = ends(&bench, "CD7");
    assert_eq!(words, "from KIT1 to Main rack, 25 mm");
    assert!(matches!(from, Some(ConduitEnd::Outlet(id)) if kitchen.contains(&id)));
    assert!(matches!(to, Some(ConduitEnd::Rack(_))));
    // Opened and sent as it is, nothing is written.
    let thing = Planned::Conduit(conduit);
    bench.sends(PlanForm::Open(thing));
    assert_eq!(bench.field(Field::ConduitNumber), "CD7");
    assert_eq!(bench.field(Field::ConduitFrom), "KIT1");
    let refused = bench.sends(PlanForm::LayConduit);
    assert!(refused.contains("it is so already"), "{refused}");
    bench.types(Field::ConduitTo, "kits");
    bench.types(Field::ConduitFrom, "under the stairs");
    assert_eq!(bench.sends(PlanForm::LayConduit), "CD7 is kept.");
    let (_, words, from, to) = ends(&bench, "CD7");
    assert_eq!(words, "from under the stairs to Kitchen store, 25 mm");
    assert_eq!(from, Some(ConduitEnd::Words("under the stairs".to_owned())));
    assert!(matches!(to, Some(ConduitEnd::Room(_))));
    // What is closed does not stay in the fields for a new one.
    bench.sends(PlanForm::Open(thing));
    bench.sends(PlanForm::Open(thing));
    assert_eq!(bench.field(Field::ConduitNumber), "");
    bench.types(Field::Reason, "Crushed");
    let said = bench.sends(PlanForm::CancelConduit(conduit));
    assert_eq!(said, "CD7 is cancelled.");
    assert_eq!(bench.field(Field::Reason), "");
    let (_, words, ..) = ends(&bench, "CD7");
    assert!(words.ends_with(", cancelled"), "{words}");
}

#[test]
fn a_cable_is_put_into_the_conduit_that_the_list_shows() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 1);
    let [first, second] = ["the attic", "the gate"].map(|from| mill.conduit(from, &[]));
    let cable = mill.cable("KIT1-A");
    let mut bench = Bench::open(mill, Screen::Cable(cable));
    assert_eq!(bench.options(Field::CableConduit).len(), 2);
    let pass = Action::Submit(Form::Find(FindForm::PassConduit(cable)));
    bench.types(Field::CableConduit, &second.0.to_string());
    bench.lets(pass.clone());
    assert_eq!(bench.registry().cables_in(second), [cable]);
    bench.lets(pass.clone());
    assert_eq!(bench.registry().cables_in(first), [cable]);
    // None is left to choose.
    assert_eq!(bench.options(Field::CableConduit), Vec::<String>::new());
    bench.lets(pass);
    let refused = matches!(&bench.model.notice, Some(Notice::Refused(refusal)) if refusal.words.starts_with("Add a conduit first"));
    assert!(refused, "{:?}", bench.model.notice);
}

#[test]
fn more_conduits_than_fit_beside_the_racks_have_pages_of_their_own() {
    let mut mill = Mill::new();
    let all: Vec<_> = (0..65).map(|_| mill.conduit("the attic", &[])).collect();
    let mut bench = Bench::open(mill, Screen::Racks);
    let says = |bench: &Bench, words: &str| {
        let mut found = false;
        ui::draw(&bench.model).each(&mut |element| {
            found |= element
                .inside
                .iter()
                .any(|node| super::words(node) == words);
        });
        found
    };
    assert!(says(&bench, "Show all 65 conduits"));
    assert!(says(&bench, "CD30") && !says(&bench, "CD31"));
    bench.lets(Action::Go(Screen::Conduits));
    bench.lets(Action::Page(2));
    assert!(says(&bench, "61 to 65 of 65"));
    assert!(says(&bench, "CD65") && !says(&bench, "CD60"));
    // One that was found is drawn, wherever it stands.
    let last = all[64];
    bench.lets(Action::Submit(Form::Plan(PlanForm::ShowConduit(last))));
    assert!(says(&bench, "CD65"));
    assert_eq!(bench.field(Field::ConduitNumber), "CD65");
}

#[test]
fn a_conduit_that_was_found_stands_open_in_its_list() {
    let mut mill = Mill::new();
    let [_, second] = ["the attic", "the gate"].map(|from| mill.conduit(from, &[]));
    let mut bench = Bench::open(mill, Screen::Find);
    let show = Action::Submit(Form::Plan(PlanForm::ShowConduit(second)));
    for _ in 0..2 {
        let effects = bench.lets(show.clone());
        assert!(effects.contains(&Effect::FocusField(Field::ConduitNumber)));
        assert_eq!(bench.model.screen(), Some(Screen::Racks));
        assert!(is_open(&bench.model, Planned::Conduit(second)));
        assert_eq!(bench.field(Field::ConduitFrom), "the gate");
    }
}

#[test]
fn a_number_that_another_conduit_has_is_refused_and_both_stay_as_they_were() {
    let mut mill = Mill::new();
    let [first, second] = ["the attic", "the gate"].map(|from| mill.conduit(from, &[]));
    let mut bench = Bench::open(mill, Screen::Racks);
    let said = |bench: &Bench| {
        let all = conduits(bench.registry());
        let words: Vec<String> = all
            .iter()
            .map(|line| format!("{} {}", line.code, line.words))
            .collect();
        words.join("; ")
    };
    let before = said(&bench);
    let taken = "refused: CD2 is there already, from the gate to the cellar. Open that one to change it, or take another number.";
    // As a new one, and in the row of another.
    bench.types(Field::ConduitFrom, "the yard");
    bench.types(Field::ConduitNumber, "2");
    assert_eq!(bench.sends(PlanForm::LayConduit), taken);
    assert_eq!(bench.model.wrong, Some(Field::ConduitNumber));
    bench.sends(PlanForm::Open(Planned::Conduit(first)));
    bench.types(Field::ConduitNumber, "2");
    assert_eq!(bench.sends(PlanForm::LayConduit), taken);
    assert_eq!(said(&bench), before);
    // A number that is free is its own from then on, and no other conduit comes of it.
    bench.types(Field::ConduitNumber, "9");
    assert_eq!(bench.sends(PlanForm::LayConduit), "CD9 is kept.");
    let codes: Vec<_> = conduits(bench.registry())
        .into_iter()
        .map(|line| (line.id, line.code))
        .collect();
    assert_eq!(
        codes,
        [(second, "CD2".to_owned()), (first, "CD9".to_owned())]
    );
}

#[test]
fn what_stood_in_the_row_of_a_conduit_is_not_met_where_a_new_one_is_added() {
    let mut mill = Mill::new();
    let conduit = mill.conduit("the attic", &[]);
    let mut bench = Bench::open(mill, Screen::Racks);
    bench.sends(PlanForm::Open(Planned::Conduit(conduit)));
    assert_eq!(bench.field(Field::ConduitFrom), "the attic");
    for screen in [Screen::Find, Screen::Racks] {
        bench.lets(Action::Go(screen));
    }
    assert_eq!(bench.field(Field::ConduitFrom), "");
    // What was begun of a new one waits.
    bench.types(Field::ConduitFrom, "the yard");
    for screen in [Screen::Find, Screen::Racks] {
        bench.lets(Action::Go(screen));
    }
    assert_eq!(bench.field(Field::ConduitFrom), "the yard");
}
