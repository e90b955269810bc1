//! The cables of a job as a schedule that reads back.

use bothends::domain::ids::{Bits80, WriterId};
use bothends::exchange::csv::Form;
use bothends::exchange::jobfile;
use bothends::exchange::schedule::Schedule;
use bothends::journal::Journal;
use bothends::schedule::{Outcome, Plan, What, export, origin, plan};
use bothends::walk;

use super::support::{job, planned, take_in};
use crate::mill::Mill;
use crate::support::marrowby;

#[test]
fn an_export_taken_in_again_adds_nothing() {
    let mut journal = job(1);
    take_in(
        &mut journal,
        include_bytes!("../../demo-data/schedule-semicolon-latin1.csv"),
    );
    take_in(
        &mut journal,
        include_bytes!("../../demo-data/schedule-bad-rows.csv"),
    );
    for form in [Form::Spreadsheet, Form::Raw] {
        let file = export(journal.registry(), form);
        let plan = planned(&journal, &file);
        assert_eq!(plan.adds(), 0);
        assert_eq!(plan.bad().collect::<Vec<_>>(), []);
        assert!(plan.here() > 20);
        let same =
            |row: &Outcome| matches!(&row.what, What::Here { says, .. } if says == "here already");
        assert!(plan.rows.iter().all(same), "{:#?}", plan.rows);
    }
}

#[test]
fn an_export_makes_the_same_schedule_in_an_empty_job() {
    let mut journal = job(1);
    take_in(
        &mut journal,
        include_bytes!("../../demo-data/schedule-semicolon-latin1.csv"),
    );
    take_in(
        &mut journal,
        b"Label,Cable type,From,Purpose\n1A/2A-1,Own: =bell wire,,\nDEN1-A,16/2,DEN2,-left\n",
    );
    for form in [Form::Spreadsheet, Form::Raw] {
        let file = export(journal.registry(), form);
        let mut copy = job(2);
        let plan = take_in(&mut copy, &file);
        assert_eq!(plan.bad().collect::<Vec<_>>(), []);
        assert_eq!(
            String::from_utf8_lossy(&export(copy.registry(), form)),
            String::from_utf8_lossy(&file),
            "{form:?}"
        );
    }
}

/// The codes of the outlets that wanted cables feed.
fn outlets(journal: &Journal) -> Vec<String> {
    let registry = journal.registry();
    let rooms = walk::rooms(registry).into_iter();
    let outlets = rooms.flat_map(|room| walk::outlets(registry, room));
    let fed = outlets.filter(|outlet| !walk::fed(registry, *outlet).is_empty());
    let codes = fed.filter_map(|outlet| registry.outlet_code(outlet));
    let mut codes: Vec<String> = codes.map(|code| code.to_string()).collect();
    codes.sort();
    codes.dedup();
    codes
}

#[test]
fn the_export_of_the_demo_job_makes_the_same_outlets_and_adds_nothing_to_its_own_job() {
    let file = include_bytes!("../../demo-data/marrowby-mill.jobfile.txt");
    let mut demo = Journal::new(marrowby::JOB, WriterId(Bits80([3; 10])));
    demo.take(jobfile::read(file).lines.iter().map(String::as_str));
    let exported = export(demo.registry(), Form::Raw);
    let schedule = Schedule::read(&exported).expect("a schedule");
    let again = plan(
        &schedule.reading(),
        demo.registry(),
        origin(marrowby::JOB, &exported),
    );
    // Two cables bear one code there, and two are landed on one position: a schedule cannot say so.
    let twice = |reason: &str| {
        let faults = ["CKIT4-A stands on line", "B07 stands on line"];
        faults.iter().any(|fault| reason.starts_with(fault))
    };
    let bad = |plan: &Plan| {
        let bad = plan.bad().map(|(_, reason)| reason.to_owned());
        bad.filter(|reason| !twice(reason)).collect::<Vec<_>>()
    };
    assert_eq!((again.adds(), bad(&again)), (0, Vec::new()));
    let mut copy = job(2);
    let plan = take_in(&mut copy, &exported);
    assert_eq!(bad(&plan), Vec::<String>::new());
    assert_eq!(outlets(&copy), outlets(&demo));
    // A cable keeps the code on its tag where its outlet moved since.
    let moved = |row: &Outcome| matches!(&row.what, What::Adds { code, says } if code == "DGAL1-B" && says.contains("labelled DBED1-B"));
    assert!(plan.rows.iter().any(moved), "{:#?}", plan.rows);
}

#[test]
fn a_position_where_another_cable_is_landed_is_not_written() {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 1);
    mill.fill("B");
    mill.land("KIT1-A", "B02");
    let file = export(mill.registry(), Form::Raw);
    let plan = planned(&job(2), &file);
    assert_eq!(plan.bad().collect::<Vec<_>>(), []);
    let says = |code: &str| {
        let mut rows = plan.rows.iter();
        rows.find_map(|row| match &row.what {
            What::Adds { code: of, says } if of == code => Some(says.clone()),
            _ => None,
        })
    };
    assert!(says("KIT1-A").is_some_and(|says| says.contains("on B02")));
    assert!(says("KIT1-B").is_some_and(|says| !says.contains(" on ")));
}
