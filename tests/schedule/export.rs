//! The cables of a job as a schedule that reads back.

use bothends::exchange::csv::Form;
use bothends::schedule::{Outcome, What, export};

use super::support::{job, planned, take_in};

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
