//! Taking a job off this device: nothing goes that lies here alone.

use bothends::app::ports::{Found, JobCard, Trouble};
use bothends::app::{
    Action, Effect, Field, Form, JobList, Model, Notice, Question, Route, TakeOut, alone, update,
};
use bothends::command::Want;
use bothends::domain::ids::JobId;
use bothends::journal::WallTime;

use crate::support::still::Still;

/// A phone with one job, just begun and stored.
struct Phone {
    model: Model,
    world: Still,
    job: JobId,
}

impl Phone {
    fn begins(name: &str) -> Self {
        let mut model = Model::default();
        let world = Still::at(WallTime(0), 0);
        let none = Found {
            items: Vec::new(),
            unreadable: 0,
        };
        update(&mut model, Action::JobsRead(Ok(none)), &world);
        model.fields.set(Field::JobName, name);
        let effects = update(&mut model, Action::Submit(Form::NewJob), &world);
        let job = model.open.as_ref().expect("a job").journal.job();
        let mut phone = Self { model, world, job };
        phone.stores(effects);
        phone
    }

    fn acts(&mut self, action: Action) -> Vec<Effect> {
        update(&mut self.model, action, &self.world)
    }

    /// The disk has stored what was to be stored.
    fn stores(&mut self, effects: Vec<Effect>) {
        for effect in effects {
            if let Effect::Save(batch) = effect {
                self.acts(Action::BatchSaved(batch.token));
            }
        }
    }

    fn adds_a_unit(&mut self, name: &str) -> Vec<Effect> {
        let name = name.to_owned();
        let want = Want::AddUnit { name };
        self.acts(Action::Do { want, then: None })
    }

    /// What is said when somebody asks, and whether the job may go.
    fn asks(&mut self) -> (String, bool) {
        assert_eq!(self.acts(Action::AskTakeOff), []);
        match &self.model.notice {
            Some(Notice::Asked { words, question }) => {
                (words.clone(), *question == Question::Leaving)
            }
            Some(Notice::Trouble(trouble)) => (trouble.to_string(), false),
            Some(Notice::Refused(refusal)) => (refusal.words.clone(), false),
            other => panic!("nothing asked: {other:?}"),
        }
    }

    fn is_taken_off_by(&self, effects: &[Effect]) -> bool {
        effects.contains(&Effect::TakeOff(self.job))
    }

    /// Opens the job anew, with these lines on the disk and so many values that are none.
    fn reads_again(&mut self, items: Vec<String>, unreadable: usize) {
        let job = self.job;
        let lines = Ok(Found { items, unreadable });
        self.acts(Action::GoToJobs);
        self.model.open = None;
        self.acts(Action::OpenJob(job));
        self.acts(Action::JobRead { job, lines });
    }

    fn list(&self) -> &[JobCard] {
        match &self.model.jobs {
            JobList::Here(jobs) => jobs,
            other => panic!("no list: {other:?}"),
        }
    }
}

#[test]
fn a_job_begun_by_mistake_goes_at_the_second_word() {
    let mut phone = Phone::begins("Weir cotage");
    // Its name taken back leaves a job without one, which goes too.
    let Some(Notice::Done { act, .. }) = phone.model.notice.clone() else {
        panic!("nothing to undo");
    };
    let want = Want::Undo { act };
    let effects = phone.acts(Action::Do { want, then: None });
    phone.stores(effects);
    let (words, may_go) = phone.asks();
    assert!(may_go, "{words}");
    assert!(words.contains("“A job without a name”"), "{words}");
    // It goes only after the question.
    phone.acts(Action::DismissNotice);
    let effects = phone.acts(Action::TakeOff);
    assert!(!phone.is_taken_off_by(&effects));
    phone.model.fields.set(Field::Note, "begun here");
    assert!(phone.asks().1);
    let effects = phone.acts(Action::TakeOff);
    assert!(phone.is_taken_off_by(&effects));
    assert!(phone.model.open.is_none());
    assert_eq!(phone.model.left, []);
    assert_eq!(phone.model.route, Route::Jobs);
    phone.acts(Action::TakenOff(phone.job));
    assert_eq!(phone.list(), []);
    let told = "“A job without a name” is no longer on this device.".to_owned();
    assert_eq!(phone.model.notice, Some(Notice::Told(told)));
}

#[test]
fn what_lies_here_alone_stays_until_it_is_in_a_file() {
    let mut phone = Phone::begins("Weir cottage");
    let effects = phone.adds_a_unit("Mill house");
    let (words, may_go) = phone.asks();
    assert!(!may_go && words.contains("saved"), "{words}");
    phone.stores(effects);
    let (words, may_go) = phone.asks();
    assert!(!may_go && words.starts_with("2 records are "), "{words}");
    let effects = phone.acts(Action::TakeOff);
    assert!(!phone.is_taken_off_by(&effects));
    let job = phone.job;
    phone.acts(Action::GivenOut { job, records: 2 });
    assert!(phone.asks().1);
    // Another window writes after the question.
    let mut other = Phone::begins("Weir cottage");
    other.world = Still::at(WallTime(0), 7);
    let lines = phone.model.open.as_ref().expect("a job").journal.lines();
    let lines: Vec<String> = lines.into_iter().map(str::to_owned).collect();
    let found = Found {
        items: lines,
        unreadable: 0,
    };
    other.acts(Action::OpenJob(job));
    other.acts(Action::JobRead {
        job,
        lines: Ok(found),
    });
    other.adds_a_unit("Weir house");
    let lines = other.model.open.as_ref().expect("a job").journal.lines();
    let lines = lines.into_iter().map(str::to_owned).collect();
    phone.acts(Action::LinesArrived { job, lines });
    let effects = phone.acts(Action::TakeOff);
    assert!(!phone.is_taken_off_by(&effects));
    let Some(Notice::Asked { question, .. }) = &phone.model.notice else {
        panic!("nothing asked: {:?}", phone.model.notice);
    };
    assert_eq!(*question, Question::FileFirst);
}

#[test]
fn a_job_that_came_back_from_its_file_is_counted_anew() {
    let mut phone = Phone::begins("Weir cottage");
    let effects = phone.adds_a_unit("Mill house");
    phone.stores(effects);
    let lines = phone.model.open.as_ref().expect("a job").journal.lines();
    let file = lines.join("\n");
    let job = phone.job;
    phone.acts(Action::GivenOut { job, records: 2 });
    phone.asks();
    phone.acts(Action::TakeOff);
    let effects = phone.acts(Action::TakenOff(job));
    let forgotten = Effect::Keep {
        key: "crew",
        value: String::new(),
    };
    assert!(effects.contains(&forgotten), "{effects:?}");
    let found = Found {
        items: vec![file],
        unreadable: 0,
    };
    phone.acts(Action::OpenJob(job));
    phone.acts(Action::JobRead {
        job,
        lines: Ok(found),
    });
    assert_eq!(alone(&phone.model), 2);
}

#[test]
fn a_damaged_record_and_what_waits_for_it_are_counted_still() {
    let mut phone = Phone::begins("Weir cottage");
    let effects = phone.adds_a_unit("Mill house");
    phone.stores(effects);
    let job = phone.job;
    phone.acts(Action::GivenOut { job, records: 2 });
    let registry = phone.model.open.as_ref().expect("a job").journal.registry();
    let unit = registry.units.iter().next().expect("a unit").0;
    for name in ["Mill", "The mill"] {
        let name = name.to_owned();
        let want = Want::RenameUnit { unit, name };
        let effects = phone.acts(Action::Do { want, then: None });
        phone.stores(effects);
    }
    assert_eq!(alone(&phone.model), 2);
    // What the names are of is damaged on the disk, in the middle of what is there.
    let lines = phone.model.open.as_ref().expect("a job").journal.lines();
    let damaged = lines.iter().enumerate().map(|(at, line)| match at {
        1 => line[..30].to_owned(),
        _ => (*line).to_owned(),
    });
    let damaged = damaged.collect();
    phone.reads_again(damaged, 0);
    let journal = &phone.model.open.as_ref().expect("a job").journal;
    assert_eq!((journal.len(), journal.waiting()), (1, 2));
    assert_eq!(alone(&phone.model), 2);
    let (words, may_go) = phone.asks();
    assert!(!may_go && words.contains("2 records are"), "{words}");
    assert!(!phone.acts(Action::TakeOff).contains(&Effect::TakeOff(job)));
    // A file holds the damaged one as it is.
    let effects = phone.acts(Action::TakeOut(TakeOut::JobFile));
    let [Effect::HandOut { records, .. }] = effects[..] else {
        panic!("a file: {effects:?}");
    };
    phone.acts(Action::GivenOut { job, records });
    assert_eq!(alone(&phone.model), 0);
}

#[test]
fn what_no_file_can_hold_keeps_the_job_here() {
    let mut phone = Phone::begins("Weir cottage");
    let lines = phone.model.open.as_ref().expect("a job").journal.lines();
    let lines = lines.into_iter().map(str::to_owned).collect();
    phone.reads_again(lines, 1);
    let (words, may_go) = phone.asks();
    assert!(!may_go && words.contains("rescue.html"), "{words}");
    // What cannot be read is in no file.
    let lines = phone.model.open.as_ref().expect("a job").journal.held();
    assert_eq!(alone(&phone.model), lines + 1);
    let job = phone.job;
    phone.acts(Action::GivenOut {
        job,
        records: lines,
    });
    assert_eq!(alone(&phone.model), 1);
    let Some(Notice::Told(words)) = &phone.model.notice else {
        panic!("{:?}", phone.model.notice);
    };
    assert!(
        words.contains("all records of this job that can be read"),
        "{words}"
    );
}

#[test]
fn another_window_leaves_a_job_that_is_gone() {
    let mut phone = Phone::begins("Weir cottage");
    let job = phone.job;
    phone.acts(Action::TakenOff(job));
    assert!(phone.model.open.is_none());
    assert_eq!(phone.model.route, Route::Jobs);
    assert_eq!(phone.list(), []);
}

#[test]
fn a_disk_that_refuses_says_so() {
    let mut phone = Phone::begins("Weir cottage");
    phone.asks();
    let effects = phone.acts(Action::TakeOff);
    // The list is read anew, and the job stands there still.
    assert!(effects.contains(&Effect::ReadJobs));
    phone.acts(Action::Failed(Trouble::NewerStore));
    assert_eq!(
        phone.model.notice,
        Some(Notice::Trouble(Trouble::NewerStore))
    );
    assert_eq!(phone.list().len(), 1);
}
