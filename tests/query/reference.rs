//! `SQLite` as the outside reference: the live facts of a job as flat tables, and the questions of
//! the punch list in SQL.

use std::collections::{BTreeSet, HashMap};

use rusqlite::types::Value;
use rusqlite::{Connection, params_from_iter};

use super::flat::{Flat, Ids, flat};
use bothends::domain::ids::{ActId, CableId, PullId};
use bothends::domain::place::Placement;
use bothends::domain::work::Standing;
use bothends::journal::{CableFact, EndFact, Fact};

/// The flat tables. The column `ord` is the rank of the fact in the order of display.
const TABLES: &str = include_str!("reference/tables.sql");
/// What a database would keep beside them: of each field the last live value, and the indexes.
const SHOWN: &str = include_str!("reference/shown.sql");
/// What every question reads: how each run stands.
const STATES: &str = include_str!("reference/states.sql");
/// The questions.
const QUESTIONS: &str = include_str!("reference/questions.sql");
/// The progress, which reads what the questions read.
const PROGRESS: &str = include_str!("reference/progress.sql");

/// The rows of a job, before a database has them.
#[derive(Default)]
pub(super) struct Rows(Vec<(&'static str, Vec<Value>)>);

impl Rows {
    /// The rows of the live facts, given in the order of display, and of the runs that were ever added.
    /// `placed` are all placements that were ever said, each with the rank of the last live fact up to it.
    /// `former` are the last names of runs that were withdrawn together with their names.
    pub(super) fn of<'a>(
        ids: &mut Ids,
        live: impl IntoIterator<Item = (ActId, &'a Fact)>,
        former: &[Fact],
        placed: &[(i64, Fact)],
    ) -> Self {
        let mut all = Self::default();
        for (ord, (act, fact)) in (1_i64..).zip(live) {
            if let Some((cable, pull)) = worked_on(fact) {
                let act = Value::Text(act.to_string());
                let pull = pull.map_or(Value::Null, |pull| Value::Integer(ids.of(pull)));
                let columns = vec![Value::Integer(ids.of(cable)), pull, act];
                all.add("work", columns, ord);
            }
            let Flat { rows, setting } = flat(ids, fact);
            for row in rows {
                all.add(row.table, row.columns, ord);
            }
            if let Some(setting) = setting {
                let pull = setting.pull.map_or(Value::Null, Value::Integer);
                let columns = vec![
                    Value::Text(setting.kind.to_owned()),
                    Value::Integer(setting.owner),
                    Value::Text(setting.thing),
                    pull,
                    Value::Text(setting.field.to_owned()),
                    Value::Text(said(fact)),
                ];
                all.add("setting", columns, ord);
            }
        }
        for fact in former {
            for row in flat(ids, fact).rows {
                all.add("former_name", row.columns, 0);
            }
        }
        for (seq, (ord, fact)) in (1_i64..).zip(placed) {
            for mut row in flat(ids, fact).rows {
                row.columns.push(Value::Integer(seq));
                all.add("placement_ever", row.columns, *ord);
            }
        }
        all
    }

    fn add(&mut self, table: &'static str, mut columns: Vec<Value>, ord: i64) {
        columns.push(Value::Integer(ord));
        self.0.push((table, columns));
    }
}

/// The run on whose copper somebody worked, by that fact, and which pull; none where he pulled it anew. That an end
/// was taken off, or a tag seen or lost, is no work.
fn worked_on(fact: &Fact) -> Option<(CableId, Option<PullId>)> {
    match fact {
        Fact::Cable(cable, CableFact::Repulled { .. }) => Some((*cable, None)),
        Fact::Pull(of, _) => Some((of.cable, Some(of.pull))),
        Fact::End(of, EndFact::Marked(_) | EndFact::Footage(_) | EndFact::Split(_)) => {
            Some((of.end.cable, Some(of.pull)))
        }
        Fact::End(of, EndFact::Placed(placement)) => {
            (*placement != Placement::Lifted).then_some((of.end.cable, Some(of.pull)))
        }
        _ => None,
    }
}

/// A job in `SQLite`.
pub(super) struct Reference {
    database: Connection,
}

impl Reference {
    /// Fills the tables.
    pub(super) fn fill(rows: &Rows) -> Self {
        let database = Connection::open_in_memory().expect("a database in memory");
        database.execute_batch(TABLES).expect("tables");
        database.execute_batch("BEGIN").expect("a transaction");
        // As many as there are tables, and more.
        database.set_prepared_statement_cache_capacity(100);
        let mut insertions: HashMap<&str, String> = HashMap::new();
        for (table, columns) in &rows.0 {
            let insertion = insertions.entry(table).or_insert_with(|| {
                let marks = vec!["?"; columns.len()].join(",");
                format!("INSERT INTO {table} VALUES ({marks})")
            });
            let mut insertion = database.prepare_cached(insertion).expect("an insertion");
            insertion.execute(params_from_iter(columns)).expect(table);
        }
        database.execute_batch("COMMIT").expect("a transaction");
        Self { database }
    }

    /// Makes what a database would keep: the last values and the indexes.
    pub(super) fn index(&self) {
        self.database.execute_batch(SHOWN).expect("shown values");
    }

    /// Asks all questions. That fills tables, so that it can be done once for each filling.
    pub(super) fn ask(&self) {
        self.database.execute_batch(STATES).expect("states");
        self.database.execute_batch(QUESTIONS).expect("questions");
    }

    /// Counts the progress, once the questions were asked.
    pub(super) fn count(&self) {
        self.database.execute_batch(PROGRESS).expect("progress");
    }

    /// The findings as rows.
    pub(super) fn fetch(&self) -> Vec<(i64, Option<i64>, String, String)> {
        let mut asked = self
            .database
            .prepare("SELECT gate, outlet, kind, args FROM finding")
            .expect("a question");
        let rows = asked.query_map([], |row| {
            Ok((row.get(0)?, row.get(1)?, row.get(2)?, row.get(3)?))
        });
        rows.expect("rows").map(|row| row.expect("a row")).collect()
    }

    /// The findings as lines of text.
    pub(super) fn findings(&self) -> BTreeSet<String> {
        let written = |(gate, outlet, kind, args): (i64, Option<i64>, String, String)| {
            let outlet = outlet.map_or("-".to_owned(), |outlet| outlet.to_string());
            format!("{gate}|{outlet}|{kind}|{args}")
        };
        self.fetch().into_iter().map(written).collect()
    }

    /// The outlets, each with its rank in the walking order as far as room and code tell.
    pub(super) fn walk(&self) -> Vec<(i64, i64)> {
        let mut asked = self.database.prepare("SELECT outlet, place FROM walk");
        let asked = asked.as_mut().expect("a question");
        let rows = asked.query_map([], |row| Ok((row.get(0)?, row.get(1)?)));
        rows.expect("rows").map(|row| row.expect("a row")).collect()
    }

    /// The progress as lines of text.
    pub(super) fn tallies(&self) -> BTreeSet<String> {
        let mut asked = self.database.prepare("SELECT line FROM tally");
        let asked = asked.as_mut().expect("a question");
        let rows = asked.query_map([], |row| row.get(0));
        rows.expect("rows").map(|row| row.expect("a row")).collect()
    }
}

/// What a fact says, apart from what it says it of.
fn said(fact: &Fact) -> String {
    match fact {
        // A split is told of the end, whichever leg somebody held when telling.
        Fact::End(_, said) => format!("{said:?}"),
        // Two who took it out of the job agree, whatever each of them knew.
        Fact::Cable(id, CableFact::Cancelled { reason, .. }) => {
            let reason = reason.clone();
            let said = CableFact::Stands(Standing::Cancelled { reason });
            format!("{:?}", Fact::Cable(*id, said))
        }
        _ => format!("{fact:?}"),
    }
}
