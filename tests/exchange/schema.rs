//! The JSON Schemas of the documentation, held against what is written and against what is wrong.
//!
//! The validator is the crate `jsonschema`, which its makers hold against the official test suite of
//! JSON Schema (draft 2020-12).

use std::collections::BTreeSet;

use bothends::exchange::jobfile;
use bothends::journal::{Fact, wire};
use jsonschema::Validator;
use proptest::prelude::*;
use serde_json::{Value, json};

use crate::journal::made::any_act;

const JOB_FILE_SCHEMA: &str = include_str!("../../docs/jobfile.schema.json");
const BUNDLE_SCHEMA: &str = include_str!("../../docs/bundle.schema.json");

const DEMO: &str = include_str!("../../demo-data/marrowby-mill.jobfile.txt");
const KEPT: &str = include_str!("../corpus/jobfiles/v1/two-phones.jobfile.txt");
const BUNDLE: &str = include_str!("../corpus/bundles/v1/two-pictures.bundle.txt");
const SAMPLE: &str = include_str!("../corpus/journals/v1/every-kind.jsonl");
const COUNTED: &str = include_str!("../corpus/hostile/counted.jsonl");
const REFUSED: &str = include_str!("../corpus/hostile/refused.jsonl");
const UNKNOWN: &str = include_str!("../corpus/hostile/unknown.jsonl");

/// What stands in the lines of which the reader makes nothing and the schema does not complain: it sees
/// neither how a number is written nor a key that stands twice, says nothing of numbers beyond 32 bits
/// within a text, and lets kinds pass that it does not know.
const BEYOND_A_SCHEMA: [&str; 13] = [
    r#""v":1,"v":1"#,
    r#""v":1.0"#,
    r#""n":1e3"#,
    r#""n":1,"n":2"#,
    r#""91JPRV3F91JPRV3F-1-4294967296""#,
    r#""91JPRV3F91JPRV3F-1.4294967296""#,
    r#""facts":[],"facts":[]"#,
    r#""text":"Mill","text":"Mole""#,
    r#""k":"JobNamed","k":"JobNamed""#,
    r#""k":"jobnamed""#,
    r#""k":"JobNamed ""#,
    r#""k":"\u0000""#,
    r#""n":1e2"#,
];

fn schema(text: &str) -> Validator {
    let schema: Value = serde_json::from_str(text).expect("the schema is JSON");
    assert!(jsonschema::draft202012::meta::is_valid(&schema));
    jsonschema::draft202012::new(&schema).expect("the schema is one")
}

fn json(line: &str) -> Value {
    serde_json::from_str(line).expect(line)
}

#[test]
fn every_line_that_is_written_fits() {
    let schema = schema(JOB_FILE_SCHEMA);
    for line in [DEMO, KEPT, SAMPLE, COUNTED]
        .into_iter()
        .flat_map(str::lines)
    {
        let value = json(line);
        if let Some(error) = schema.iter_errors(&value).next() {
            panic!("{error} at {}: {line}", error.instance_path());
        }
    }
}

#[test]
fn every_line_of_a_bundle_fits() {
    let of_job = schema(JOB_FILE_SCHEMA);
    let own = schema(BUNDLE_SCHEMA);
    let lines: Vec<Value> = BUNDLE.lines().map(json).collect();
    let pictures = lines.iter().position(|line| line.get("picture").is_some());
    let pictures = pictures.expect("pictures");
    for (at, line) in lines.iter().enumerate() {
        let is_own = at == 0 || at >= pictures;
        assert_eq!(own.is_valid(line), is_own, "{line}");
        assert_eq!(of_job.is_valid(line), !is_own, "{line}");
    }
}

#[test]
fn any_act_fits_as_it_is_written() {
    let schema = schema(JOB_FILE_SCHEMA);
    let mut runner = crate::support::seeds::runner(2_000);
    // What is not known cannot be drafted, so it is never written.
    let is_known = |fact: &Fact| !matches!(fact, Fact::Unknown { .. });
    let checked = runner.run(&any_act(), |mut act| {
        act.facts.retain(is_known);
        let line = wire::write(&act);
        let value = json(&line);
        prop_assert!(schema.is_valid(&value), "{}", line);
        Ok(())
    });
    if let Err(failure) = checked {
        panic!("{failure}");
    }
}

#[test]
fn what_the_reader_refuses_does_not_fit() {
    let schema = schema(JOB_FILE_SCHEMA);
    let lines = REFUSED.lines().chain(UNKNOWN.lines());
    // What is no JSON at all never comes before a schema.
    let read = lines.filter_map(|line| Some((line, serde_json::from_str::<Value>(line).ok()?)));
    let fit = read.filter(|(_, value)| schema.is_valid(value));
    let fit: Vec<&str> = fit.map(|(line, _)| line).collect();
    assert_eq!(fit.len(), BEYOND_A_SCHEMA.len(), "{fit:?}");
    for (line, part) in fit.iter().zip(BEYOND_A_SCHEMA) {
        assert!(line.contains(part), "{line}");
    }
}

#[test]
fn the_schema_knows_the_kinds_that_the_sample_holds() {
    let schema = json(JOB_FILE_SCHEMA);
    let known = schema.pointer("/$defs/fact/if/properties/k/enum");
    let known = known.and_then(Value::as_array).expect("a list of kinds");
    let known: BTreeSet<&str> = known.iter().filter_map(Value::as_str).collect();
    let lines: Vec<Value> = SAMPLE.lines().map(json).collect();
    let facts = lines.iter().filter_map(|line| line["facts"].as_array());
    let kinds = facts.flatten().filter_map(|fact| fact["k"].as_str());
    assert_eq!(known, kinds.collect());
}

#[test]
fn unknown_kinds_and_fields_fit() {
    let schema = schema(JOB_FILE_SCHEMA);
    let mut line = json(SAMPLE.lines().next().expect("a line"));
    line["later"] = json!({ "deep": [1, null] });
    line["facts"][0]["later"] = json!(7);
    let newer = json!({ "k": "RoomPainted", "of": 7, "n": "white", "at": [] });
    line["facts"].as_array_mut().expect("facts").push(newer);
    assert!(schema.is_valid(&line));
    let Ok(act) = wire::read(&line.to_string()) else {
        panic!("the reader takes it too");
    };
    assert!(matches!(act.facts.last(), Some(Fact::Unknown { .. })));
}

/// The first and the last line of the kept file, each with one thing wrong.
#[test]
fn wrong_lines_of_the_file_itself_do_not_fit() {
    let schema = schema(JOB_FILE_SCHEMA);
    let first = json(KEPT.lines().next().expect("a first line"));
    let last = json(KEPT.lines().last().expect("a last line"));
    let kept = json!({ "kept": "a\nb" });
    let wrong = [
        (&first, "/format", json!("bothends")),
        (&first, "/version", json!(2)),
        (&first, "/version", json!("1")),
        (&first, "/job", json!("marrowby")),
        (&first, "/job", json!("IIIIIIIIIIIIIIII")),
        (&first, "/name", json!(null)),
        (&last, "/end", json!("bothends-bundle")),
        (&last, "/acts", json!(-1)),
        (&last, "/acts", json!(1.5)),
        (&last, "/sha256", json!("abc")),
        (&last, "/writers", json!({})),
        (&last, "/writers/0/writer", json!("x")),
        (&last, "/writers/0/top", json!(4_294_967_296_u64)),
        (
            &last,
            "/writers/0/head",
            json!(last["sha256"].as_str().map(str::to_uppercase)),
        ),
        (&kept, "/kept", json!(7)),
    ];
    for (line, at, value) in wrong {
        let mut line = line.clone();
        assert!(schema.is_valid(&line), "{line}");
        *line.pointer_mut(at).expect(at) = value;
        assert!(!schema.is_valid(&line), "{line}");
    }
    for line in [
        json!({ "kept": "x", "later": 1 }),
        json!([]),
        json!({}),
        json!(null),
    ] {
        assert!(!schema.is_valid(&line), "{line}");
    }
    assert_eq!(jobfile::read(KEPT.as_bytes()).findings, []);
}

#[test]
fn wrong_lines_of_a_bundle_do_not_fit() {
    let schema = schema(BUNDLE_SCHEMA);
    let lines: Vec<Value> = BUNDLE.lines().map(json).collect();
    let picture = &lines[lines.len() - 2];
    let last = &lines[lines.len() - 1];
    let wrong = [
        (&lines[0], "/version", json!(0)),
        (picture, "/picture", json!("x")),
        (picture, "/whole", json!("/9j/A")),
        (picture, "/whole", json!("iVBORw0KGgo=")),
        (picture, "/small", json!("/9j/_-AA")),
        (picture, "/small", json!(null)),
        (last, "/end", json!("bothends-job")),
        (last, "/pictures", json!("2")),
    ];
    for (line, at, value) in wrong {
        let mut line = line.clone();
        assert!(schema.is_valid(&line), "{line}");
        *line.pointer_mut(at).expect(at) = value;
        assert!(!schema.is_valid(&line), "{line}");
    }
}
