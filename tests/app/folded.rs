//! Racks in a list: folded shut but for one, which is where somebody comes back to.

use bothends::app::plan::{PlanForm, Planned, chosen_panel_rack, is_open};
use bothends::app::racks::{self, Line};
use bothends::app::{Action, Effect, Field, Form, Model, OpenJob, Route, Screen, update};
use bothends::domain::medium::Connector;
use bothends::domain::place::Face;
use bothends::journal::WallTime;
use bothends::query::plan;

use crate::mill::Mill;
use crate::support::still::Still;

fn at_the_racks(mill: Mill) -> Model {
    let job = mill.journal.job();
    let screen = Screen::Racks;
    Model {
        open: Some(OpenJob::new(mill.journal)),
        route: Route::Job { job, screen },
        ..Model::default()
    }
}

fn lets(model: &mut Model, action: Action) -> Vec<Effect> {
    update(model, action, &Still::at(WallTime(1_772_409_600_000), 9))
}

fn types(model: &mut Model, field: Field, text: &str) {
    let text = text.to_owned();
    lets(model, Action::Typed { field, text });
}

#[test]
fn racks_are_folded_but_for_one_and_a_panel_opens_its_own() {
    let mut mill = Mill::new();
    mill.rack(2, "A", "Loft rack");
    mill.panel("2A", "E", Connector::Modular, 24, None);
    let panel = mill.panel_id("E");
    let mut bench = at_the_racks(mill);
    let racks = plan::racks(bench.registry().expect("a job"));
    let key = |at: usize| racks::key(racks[at].rack);
    let of: Vec<_> = racks.iter().map(|of| (of.rack, of.panels.len())).collect();
    let lines = |bench: &Model| racks::lines(bench, &of);
    let folded = |at| Line::Rack { at, is_open: false };
    assert_eq!(lines(&bench), [folded(0), folded(1)]);
    types(&mut bench, Field::OpenRack, &key(0));
    let first = [
        Line::Rack {
            at: 0,
            is_open: true,
        },
        Line::Whole(0),
        Line::Panel(0, 0),
        Line::Panel(0, 1),
        Line::Panel(0, 2),
        folded(1),
    ];
    assert_eq!(lines(&bench), first);
    // The only rack of a job has its panels below it at once.
    assert_eq!(racks::lines(&bench, &of[..1]), first[1..5]);
    // Whoever comes back finds the same one open.
    lets(
        &mut bench,
        Action::Go(Screen::Panel {
            panel,
            face: Face::Front,
        }),
    );
    lets(&mut bench, Action::Go(Screen::Rack));
    assert_eq!(bench.fields.get(Field::OpenRack), key(0));
    let effects = lets(
        &mut bench,
        Action::Submit(Form::Plan(PlanForm::ShowPanel(panel))),
    );
    assert!(effects.contains(&Effect::FocusField(Field::EditCode)));
    assert_eq!(bench.screen(), Some(Screen::Racks));
    assert!(is_open(&bench, Planned::Panel(panel)));
    assert_eq!(bench.fields.get(Field::OpenRack), key(1));
    assert_eq!(bench.fields.get(Field::EditCode), "E");
    // A new panel goes where one is looking.
    assert_eq!(chosen_panel_rack(&bench), racks[1].rack);
}

#[test]
fn the_rack_that_is_opened_is_on_the_page_that_is_shown() {
    let mut mill = Mill::new();
    for floor in 1..=20 {
        for letter in ["B", "C"] {
            mill.rack(floor, letter, &format!("Rack {floor}{letter}"));
        }
    }
    let mut bench = at_the_racks(mill);
    let racks = plan::racks(bench.registry().expect("a job"));
    for (at, page) in [(2, 0), (29, 0), (30, 1), (40, 1)] {
        let key = racks::key(racks[at].rack);
        types(&mut bench, Field::OpenRack, &key);
        assert_eq!(bench.page, page, "rack {at}");
        types(&mut bench, Field::OpenRack, "");
        assert_eq!(bench.page, page, "rack {at}, folded again");
    }
}
