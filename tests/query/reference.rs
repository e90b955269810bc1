//! `SQLite` as the outside reference: the live facts of a job as flat tables, and the questions of
//! the punch list in SQL.

use std::collections::BTreeSet;

use rusqlite::types::Value;
use rusqlite::{Connection, params_from_iter};

use super::flat::{Flat, Ids, flat};
use bothends::journal::Fact;

/// The flat tables. The column `ord` is the rank of the fact in the order of display.
const TABLES: &str = include_str!("reference/tables.sql");
/// What every question reads: of each field the last live value, and how each run stands.
const SHOWN: &str = include_str!("reference/shown.sql");
/// The questions.
const QUESTIONS: &str = include_str!("reference/questions.sql");

/// A job in `SQLite`.
pub(super) struct Reference {
    database: Connection,
}

impl Reference {
    /// Fills the tables with the live facts, given in the order of display, and with the runs that
    /// were ever added.
    /// `placed` are all placements that were ever said, each with the rank of the last live fact up to it.
    /// `former` are the last names of runs that were withdrawn together with their names.
    pub(super) fn fill<'a>(
        ids: &mut Ids,
        live: impl IntoIterator<Item = &'a Fact>,
        former: &[Fact],
        placed: &[(i64, Fact)],
    ) -> Self {
        let database = Connection::open_in_memory().expect("a database in memory");
        database.execute_batch(TABLES).expect("tables");
        database.execute_batch("BEGIN").expect("a transaction");
        for (ord, fact) in (1_i64..).zip(live) {
            let Flat { rows, setting } = flat(ids, fact);
            for row in rows {
                insert(&database, row.table, row.columns, ord);
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
                insert(&database, "setting", columns, ord);
            }
        }
        for fact in former {
            for row in flat(ids, fact).rows {
                insert(&database, "former_name", row.columns, 0);
            }
        }
        for (seq, (ord, fact)) in (1_i64..).zip(placed) {
            for mut row in flat(ids, fact).rows {
                row.columns.push(Value::Integer(seq));
                insert(&database, "placement_ever", row.columns, *ord);
            }
        }
        database.execute_batch("COMMIT").expect("a transaction");
        Self { database }
    }

    /// Asks all questions.
    pub(super) fn ask(&self) {
        self.database.execute_batch(SHOWN).expect("shown values");
        self.database.execute_batch(QUESTIONS).expect("questions");
    }

    /// The findings as lines of text.
    pub(super) fn findings(&self) -> BTreeSet<String> {
        self.rows(
            "SELECT gate || '|' || ifnull(outlet, '-') || '|' || kind || '|' || args FROM finding",
        )
        .into_iter()
        .collect()
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
        self.rows("SELECT line FROM tally").into_iter().collect()
    }

    fn rows(&self, question: &str) -> Vec<String> {
        let mut asked = self.database.prepare(question).expect("a question");
        let rows = asked.query_map([], |row| row.get(0)).expect("rows");
        rows.map(|row| row.expect("a row")).collect()
    }
}

/// What a fact says, apart from what it says it of.
fn said(fact: &Fact) -> String {
    match fact {
        // A split is told of the end, whichever leg somebody held when telling.
        Fact::End(_, said) => format!("{said:?}"),
        _ => format!("{fact:?}"),
    }
}

fn insert(database: &Connection, table: &str, columns: Vec<Value>, ord: i64) {
    let marks = vec!["?"; columns.len() + 1].join(",");
    let mut insertion = database
        .prepare_cached(&format!("INSERT INTO {table} VALUES ({marks})"))
        .expect("an insertion");
    let values = columns.into_iter().chain([Value::Integer(ord)]);
    insertion.execute(params_from_iter(values)).expect(table);
}
