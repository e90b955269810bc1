//! A cable schedule on its way in: what the screen says of the file.

use bothends::app::{Action, Effect, Field, Form, Model, Notice, Purpose, update};
use bothends::command::Want;
use bothends::exchange::schedule::{Column, Use};
use bothends::journal::WallTime;
use bothends::ui;
use bothends::view::Node;

use crate::support::still::Still;

/// All words of the import screen once a file was picked, one part a line.
fn words_of(file: &str) -> String {
    let mut model = new_job();
    pick(&mut model, file);
    words_on(&model)
}

fn new_job() -> Model {
    let mut model = Model::default();
    let world = Still::at(WallTime(0), 0);
    let typed = Action::Typed {
        field: Field::JobName,
        text: "Marrowby Mill".to_owned(),
    };
    update(&mut model, typed, &world);
    update(&mut model, Action::Submit(Form::NewJob), &world);
    model
}

fn pick(model: &mut Model, file: &str) {
    let picked = Action::FilePicked {
        purpose: Purpose::Schedule,
        name: "cables.csv".to_owned(),
        bytes: file.as_bytes().to_vec(),
    };
    update(model, picked, &Still::at(WallTime(0), 0));
}

fn words_on(model: &Model) -> String {
    let mut words = String::new();
    ui::draw(model).each(&mut |element| {
        for node in &element.inside {
            if let Node::Text(text) = node {
                words.push_str(text);
                words.push('\n');
            }
        }
    });
    words
}

#[test]
fn a_file_without_a_usable_row_is_answered_with_a_sentence() {
    for file in [
        // Headings alone.
        "Label code,Room,Cable type\n",
        // A row without a kind of cable.
        "Label code,Room,Cable type\nKIT1-A,Kitchen,\n",
        // No table of cables at all.
        "Dear all,\nthe kitchen is late\n",
        // A total alone.
        "Label code,Cable type\nTotal,18\n",
    ] {
        let words = words_of(file);
        assert!(
            words.contains("No row of this file can be used."),
            "{words}"
        );
        assert!(words.contains("Choose another file"), "{words}");
        assert!(!words.contains("Rows that can be used"), "{words}");
    }
    let words = words_of("Label code,Cable type\nKIT1-A,Cat 6\n");
    assert!(!words.contains("No row of this file"), "{words}");
    assert!(words.contains("Rows that can be used"), "{words}");
}

#[test]
fn one_is_never_said_in_the_plural() {
    let words = words_of("Label code,Cable type\nKIT1-A,Cat 6\nKIT1-B,\nTotal,1\n");
    assert!(words.contains("Add the good row, leave 1 out"), "{words}");
    for wrong in ["1 rows", "1 good rows", "1 other things", "1 cables"] {
        assert!(!words.contains(wrong), "{wrong}: {words}");
    }
    let words = words_of("Label code,Cable type\nKIT1-A,Cat 6\nKIT1-B,Cat 6\nKIT1-C,\n");
    assert!(
        words.contains("Add the 2 good rows, leave 1 out"),
        "{words}"
    );
}

#[test]
fn a_file_that_was_taken_back_says_so_and_is_offered_again() {
    let file = "Label code,Cable type\nKIT1-A,Cat 6\nKIT1-B,Cat 6\n";
    let world = Still::at(WallTime(0), 0);
    let mut model = new_job();
    pick(&mut model, file);
    assert!(!words_on(&model).contains("taken back"));
    update(&mut model, Action::TakeScheduleIn, &world);
    let Some(Notice::Done { act, .. }) = model.notice else {
        panic!("{:?}", model.notice)
    };
    let undo = Action::Do {
        want: Want::Undo { act },
        then: None,
    };
    update(&mut model, undo, &world);
    assert!(
        matches!(&model.notice, Some(Notice::Done { words, .. })
            if words.starts_with("Taken back: KIT") && words.contains("; and ")),
        "{:?}",
        model.notice
    );
    pick(&mut model, file);
    let words = words_on(&model);
    assert!(words.contains("taken in before and taken back"), "{words}");
    assert!(words.contains("0 here already"), "{words}");
    assert!(words.contains("Add all 2 cables"), "{words}");
    update(&mut model, Action::TakeScheduleIn, &world);
    pick(&mut model, file);
    assert!(words_on(&model).contains("2 here already"));
}

#[test]
fn many_oddities_of_a_kind_are_told_once_with_a_count() {
    let mut file = "Label code,Cable type,Purpose\n".to_owned();
    for row in 1..=90 {
        file += &format!("KIT{row}-A,Cat 6,a \"quoted\" word\nDEN{row}-A,Cat 6\n");
    }
    let words = words_of(&file);
    let told = |start: &str| -> Vec<String> {
        let lines = words.lines().filter(|line| line.starts_with(start));
        lines.map(str::to_owned).collect()
    };
    let [quotes] = &told("Line 2 has a quotation mark")[..] else {
        panic!("{words}")
    };
    assert!(
        quotes.ends_with(" 90 lines are so: 2, 4, 6, 8, 10 …"),
        "{quotes}"
    );
    assert_eq!(told("Line 3 has 2 of the 3 cells").len(), 1);
    assert_eq!(words.matches("quotation mark").count(), 1, "{words}");
    let two = words_of("Label code,Cable type,Room\nKIT1-A,Cat 6\nKIT1-B,Cat 6\n");
    assert!(two.contains(" 2 lines are so: 2, 3\n"), "{two}");
    let one = words_of("Label code,Cable type,Room\nKIT1-A,Cat 6\n");
    assert!(
        one.contains("Line 2 has 2 of the 3 cells") && !one.contains("are so"),
        "{one}"
    );
}

#[test]
fn a_job_file_is_known_as_one() {
    let job = include_str!("../../demo-data/marrowby-mill.jobfile.txt");
    for file in [job.to_owned(), format!("\u{feff}{job}")] {
        let mut model = new_job();
        pick(&mut model, &file);
        assert!(model.import.is_none());
        let Some(Notice::Refused(refusal)) = &model.notice else {
            panic!("{:?}", model.notice)
        };
        assert!(
            refusal.words.contains("“Open a job file”"),
            "{}",
            refusal.words
        );
    }
}

#[test]
fn columns_parted_by_something_unusual_are_told_what_parts_them() {
    let words = words_of("Label code|Cable type\nKIT1-A|Cat 6\n");
    assert!(words.contains("a comma, a semicolon or a tab"), "{words}");
    let words = words_of("Label code;Cable type\nKIT1-A;\n");
    assert!(!words.contains("a semicolon or a tab"), "{words}");
}

#[test]
fn the_questions_about_columns_stay_open_until_the_file_is_put_away() {
    let mut model = new_job();
    pick(&mut model, "Label code,,Cable type\nKIT1-A,blue,Cat 6\n");
    let words = words_on(&model);
    assert!(words.contains("Column 2"), "{words}");
    let is_open = |model: &Model| {
        let mut open = false;
        ui::draw(model).each(&mut |element| {
            open |= element.tag == "details" && element.attribute("open").is_some();
        });
        open
    };
    assert!(is_open(&model));
    let answered = Action::MapColumn {
        place: 1,
        column: None,
    };
    update(&mut model, answered, &Still::at(WallTime(0), 0));
    assert!(is_open(&model), "the last answer closes nothing");
}

#[test]
fn what_a_column_holds_is_remembered_for_the_next_file_with_its_heading() {
    let mut model = new_job();
    let file = "Tag no,Kind\nof cable,Old list,Label code\nX,Cat 6,blue,KIT1-A\n";
    let file = file.replace("Kind\nof cable", "\"Kind\nof cable\"");
    pick(&mut model, &file);
    let uses = |model: &Model| {
        let import = model.import.as_ref().expect("a schedule");
        import.schedule.mapping().uses().to_vec()
    };
    let world = Still::at(WallTime(0), 0);
    let mut kept = Vec::new();
    for (place, column) in [(1, Some(Column::Medium)), (2, None)] {
        kept.extend(update(
            &mut model,
            Action::MapColumn { place, column },
            &world,
        ));
    }
    let said = uses(&model);
    assert_eq!(said[1..3], [Use::Holds(Column::Medium), Use::Ignored]);
    assert!(kept.iter().any(|effect| matches!(effect, Effect::Keep { key: "columns", value } if value.contains("Kind of cable"))));
    // Another table of the same office.
    pick(&mut model, &file.replace("KIT1-A", "KIT1-B"));
    assert_eq!(uses(&model), said);
}

#[test]
fn rows_with_one_reason_are_one_item_with_their_lines() {
    let mut file = "From,Room,Outlet,Cable type\n".to_owned();
    for line in 2..=12 {
        let kind = if [4, 7, 8, 9, 11].contains(&line) {
            ""
        } else {
            "Cat 6"
        };
        file += &format!(",Kitchen,1,{kind}\n");
    }
    file += "MDF,Kitchen,1,Cat 6\n,Kitchen,1,Cat 6,more\n";
    let words = words_of(&file);
    assert!(words.contains("Lines 4, 7 to 9 and 11\n"), "{words}");
    assert_eq!(words.matches("The kind of cable is missing").count(), 1);
    assert!(words.contains("Line 13\n"), "{words}");
    assert!(words.contains("Line 14\nThe row has 5 cells"), "{words}");
    assert!(words.contains("7 cannot be used"), "{words}");
    assert!(words.contains("leave 7 out"), "{words}");
}

#[test]
fn every_bad_row_can_be_reached() {
    let mut model = new_job();
    let world = Still::at(WallTime(0), 0);
    let rows = (1..=150).map(|n| format!("KIT1-A,no cable {n}\n"));
    let file = format!(
        "Label code,Cable type\n{}HAL1-A,Cat 6\n",
        rows.collect::<String>()
    );
    pick(&mut model, &file);
    let mut seen = String::new();
    let mut pages = 0;
    loop {
        let words = words_on(&model);
        assert!(!words.contains(" more\n"), "{words}");
        seen += &words;
        if !words.contains(" of 151\n") || words.contains(" to 151 of 151\n") {
            break;
        }
        pages += 1;
        update(&mut model, Action::Page(pages), &world);
    }
    for n in 1..=150 {
        assert!(seen.contains(&format!("“no cable {n}” ")), "{n}");
    }
    assert_eq!(seen.matches("Rows that can be used\n").count(), 1);
    // Another use of a column begins the list anew.
    assert!(model.page > 0);
    let answered = Action::MapColumn {
        place: 1,
        column: None,
    };
    update(&mut model, answered, &world);
    assert_eq!(model.page, 0);
}

#[test]
fn the_notice_says_how_many_rows_were_left_out() {
    for (file, said) in [
        (
            "Label code,Cable type\nKIT1-A,Cat 6\nKIT1-B,\nKIT1-C,RG-6,more\n",
            "1 cable is added. Rows left out: 2.",
        ),
        (
            "Label code,Cable type\nKIT1-A,Cat 6\nKIT1-B,RG-6\n",
            "2 cables are added.",
        ),
    ] {
        let mut model = new_job();
        pick(&mut model, file);
        update(
            &mut model,
            Action::TakeScheduleIn,
            &Still::at(WallTime(0), 0),
        );
        let Some(Notice::Done { words, .. }) = &model.notice else {
            panic!("{:?}", model.notice)
        };
        assert_eq!(words, said);
    }
}

#[test]
fn a_file_whose_outlets_are_numbered_here_says_so() {
    let said = "the outlets of each room are numbered in its order";
    let words = words_of("Wire No,Area,Kind\nW001,Lobby,Cat 6\n");
    assert!(words.contains(said), "{words}");
    assert!(words.contains("LOB1-A"), "{words}");
    assert!(!words_of("Label code,Cable type\nKIT1-A,Cat 6\n").contains(said));
}
