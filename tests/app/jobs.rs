//! The list of jobs: what is on it, what it calls them, and that whatever is picked there opens.

use bothends::app::ports::{Found, JobCard};
use bothends::app::{
    Action, Effect, Field, Form, JobList, Model, Notice, Purpose, Question, Route, Screen, Theme,
    update,
};
use bothends::command::Want;
use bothends::domain::ids::JobId;
use bothends::domain::length::LengthUnit;
use bothends::exchange::jobfile;
use bothends::journal::WallTime;

use crate::support::marrowby;
use crate::support::still::Still;

const DEMO: &[u8] = include_bytes!("../../demo-data/marrowby-mill.jobfile.txt");

/// A phone at the list of jobs.
struct Phone {
    model: Model,
    world: Still,
}

impl Phone {
    fn with(jobs: &[(JobId, &str)]) -> Self {
        let mut phone = Self {
            model: Model::default(),
            world: Still::at(WallTime(0), 0),
        };
        let cards = jobs.iter().map(|(job, name)| card(*job, name));
        let found = Found {
            items: cards.collect(),
            unreadable: 0,
        };
        phone.acts(Action::JobsRead(Ok(found)));
        phone
    }

    fn acts(&mut self, action: Action) -> Vec<Effect> {
        update(&mut self.model, action, &self.world)
    }

    /// Starts a job, and gives its id.
    fn starts(&mut self, name: &str) -> JobId {
        let text = name.to_owned();
        self.acts(Action::Typed {
            field: Field::JobName,
            text,
        });
        self.acts(Action::Submit(Form::NewJob));
        self.model.open.as_ref().expect("a job").journal.job()
    }

    fn renames(&mut self, name: &str) -> Vec<Effect> {
        let name = name.to_owned();
        let want = Want::NameJob { name };
        self.acts(Action::Do { want, then: None })
    }

    /// Does what the outside does until nothing more comes of it: the disk stores, the address
    /// tells of its change before the disk has read.
    fn settles(&mut self, effects: Vec<Effect>, stored: &[String]) {
        let mut reads = 0;
        let mut waiting = effects;
        while !waiting.is_empty() {
            waiting.sort_by_key(|effect| !matches!(effect, Effect::SetHash(_)));
            let action = match waiting.remove(0) {
                Effect::Save(batch) => Action::BatchSaved(batch.token),
                Effect::SetHash(hash) => Action::HashChanged(hash),
                Effect::ReadJob(job) => {
                    reads += 1;
                    let found = Found {
                        items: stored.to_vec(),
                        unreadable: 0,
                    };
                    Action::JobRead {
                        job,
                        lines: Ok(found),
                    }
                }
                _ => continue,
            };
            waiting.extend(self.acts(action));
        }
        assert!(reads <= 1, "read {reads} times");
    }

    /// What is known of the open job, as it is stored.
    fn lines(&self) -> Vec<String> {
        let open = self.model.open.as_ref().expect("a job");
        open.journal
            .lines()
            .into_iter()
            .map(str::to_owned)
            .collect()
    }

    fn list(&self) -> Vec<JobCard> {
        match &self.model.jobs {
            JobList::Here(jobs) => jobs.clone(),
            other => panic!("no list: {other:?}"),
        }
    }

    fn told(&self) -> &str {
        match &self.model.notice {
            Some(Notice::Told(words)) => words,
            other => panic!("nothing told: {other:?}"),
        }
    }
}

fn card(job: JobId, name: &str) -> JobCard {
    JobCard {
        id: job.0.to_string(),
        name: name.to_owned(),
    }
}

fn wall_of(job: JobId) -> Route {
    Route::Job {
        job,
        screen: Screen::Wall,
    }
}

/// Whether effects have the list of jobs say this, beside the lines that make it so.
fn lists(effects: &[Effect], card: &JobCard) -> bool {
    effects.iter().any(|effect| {
        matches!(effect, Effect::Save(batch) if batch.listed.as_ref() == Some(card) && !batch.lines.is_empty())
    })
}

#[test]
fn the_list_calls_a_job_what_it_is_called_after_an_undo_too() {
    let mut phone = Phone::with(&[]);
    let job = phone.starts("Marrowby Mill");
    assert_eq!(phone.list(), [card(job, "Marrowby Mill")]);
    let effects = phone.renames("Weir cottage");
    assert!(lists(&effects, &card(job, "Weir cottage")));
    assert_eq!(phone.list(), [card(job, "Weir cottage")]);
    let Some(Notice::Done { act, .. }) = phone.model.notice.clone() else {
        panic!("nothing to undo");
    };
    let want = Want::Undo { act };
    let effects = phone.acts(Action::Do { want, then: None });
    assert!(lists(&effects, &card(job, "Marrowby Mill")));
    assert_eq!(phone.list(), [card(job, "Marrowby Mill")]);
    // Work that names nothing leaves the list alone.
    let want = Want::AddUnit {
        name: "Mill house".to_owned(),
    };
    let effects = phone.acts(Action::Do { want, then: None });
    assert!(!effects.is_empty());
    assert!(
        !effects
            .iter()
            .any(|effect| matches!(effect, Effect::Save(batch) if batch.listed.is_some()))
    );
}

#[test]
fn the_demo_job_opens_whether_or_not_it_is_here() {
    let lines = jobfile::read(DEMO).lines;
    let mut phone = Phone::with(&[]);
    let effects = phone.acts(Action::DemoFetched(Ok(DEMO.to_vec())));
    phone.settles(effects, &[]);
    assert_eq!(phone.list(), [card(marrowby::JOB, marrowby::NAME)]);
    assert_eq!(phone.model.route, wall_of(marrowby::JOB));
    let open = phone.model.open.as_ref().expect("a job");
    assert_eq!(open.journal.len(), lines.len());
    assert_eq!(phone.model.notice, None);

    // Back on the list, where the job is still held open.
    phone.acts(Action::GoToJobs);
    let effects = phone.acts(Action::DemoFetched(Ok(DEMO.to_vec())));
    phone.settles(effects, &lines);
    assert_eq!(phone.model.route, wall_of(marrowby::JOB));
    assert_eq!(
        phone.told(),
        "This job was on this device already. It is open now. Everything in this file was here already."
    );
    assert_eq!(phone.list().len(), 1);
}

#[test]
fn a_job_file_of_a_job_on_the_list_opens_it_under_the_name_it_has_here() {
    // The same job was opened before and renamed since; nothing is open now.
    let mut lines = jobfile::read(DEMO).lines;
    let mut phone = Phone::with(&[]);
    let effects = phone.acts(Action::DemoFetched(Ok(DEMO.to_vec())));
    phone.settles(effects, &lines);
    phone.renames("Mill, phase two");
    lines = phone.lines();

    let mut phone = Phone::with(&[(marrowby::JOB, "Mill, phase two")]);
    let effects = phone.acts(Action::FilePicked {
        purpose: Purpose::JobFile,
        name: "mill.jobfile.txt".to_owned(),
        bytes: DEMO.to_vec(),
    });
    assert!(
        !effects
            .iter()
            .any(|effect| matches!(effect, Effect::Save(batch) if batch.listed.is_some()))
    );
    phone.settles(effects, &lines);
    assert_eq!(phone.model.route, wall_of(marrowby::JOB));
    assert!(phone.model.open.is_some());
    assert_eq!(
        phone.told(),
        "This job was on this device already. It is open now. Everything in this file was here already."
    );
    assert_eq!(phone.list(), [card(marrowby::JOB, "Mill, phase two")]);
}

/// The demo job with one word changed on its way, and how many lines are doubtful for it.
fn altered() -> (Vec<u8>, usize) {
    let text = String::from_utf8(DEMO.to_vec()).expect("text");
    let bytes = text.replacen("Wheel room", "Whale room", 1).into_bytes();
    let doubtful = jobfile::read(&bytes).doubtful.len();
    assert!(doubtful > 0);
    (bytes, doubtful)
}

/// What is asked of the lines that may be altered, and which these are.
fn doubts(phone: &Phone) -> (&str, &[String]) {
    let Some(Notice::Asked {
        words,
        question: Question::Doubtful(doubtful),
    }) = &phone.model.notice
    else {
        panic!("not asked: {:?}", phone.model.notice);
    };
    (words, doubtful)
}

fn picked(bytes: Vec<u8>) -> Action {
    Action::FilePicked {
        purpose: Purpose::JobFile,
        name: "mill.jobfile.txt".to_owned(),
        bytes,
    }
}

#[test]
fn an_altered_copy_never_covers_what_is_here_even_where_the_job_was_not_open() {
    let lines = jobfile::read(DEMO).lines;
    let (bytes, _) = altered();
    let mut phone = Phone::with(&[(marrowby::JOB, marrowby::NAME)]);
    let effects = phone.acts(picked(bytes));
    phone.settles(effects, &lines);
    let open = phone.model.open.as_ref().expect("a job");
    assert_eq!(open.journal.health(), bothends::journal::Health::default());
    assert_eq!(open.journal.lines().len(), lines.len());
    // Nothing is asked, as everything in it is here as it was written.
    assert!(phone.told().contains("was changed after it was written"));
    assert!(
        phone
            .told()
            .ends_with("Everything in this file was here already.")
    );
}

#[test]
fn what_is_doubtful_and_not_here_is_taken_in_only_when_asked_for() {
    let (bytes, doubtful) = altered();
    let whole = jobfile::read(&bytes).lines.len();
    let mut phone = Phone::with(&[]);
    let effects = phone.acts(picked(bytes));
    phone.settles(effects, &[]);
    phone.acts(Action::TakeIn);
    let count = |phone: &Phone| phone.lines().len();
    assert_eq!(count(&phone), whole);
    assert_eq!(doubts(&phone).1.len(), doubtful);
    phone.acts(Action::TakeDoubtful);
    // They are looked at first, like everything that comes in.
    assert_eq!(phone.model.screen(), Some(Screen::Incoming));
    assert_eq!(count(&phone), whole);
    let effects = phone.acts(Action::TakeIn);
    assert!(
        effects
            .iter()
            .any(|effect| matches!(effect, Effect::Save(_)))
    );
    assert_eq!(count(&phone), whole + doubtful);
    // Asked once; a second tap does nothing.
    assert_eq!(phone.acts(Action::TakeDoubtful), []);
}

#[test]
fn of_a_file_that_was_altered_those_lines_are_told_that_are_not_here() {
    let (bytes, _) = altered();
    let last = jobfile::read(&bytes).doubtful.pop().expect("one");
    let mut lines = jobfile::read(DEMO).lines;
    lines.retain(|line| *line != last);
    let all_but_one = jobfile::write(
        marrowby::JOB,
        marrowby::NAME,
        lines.iter().map(String::as_str),
    );
    let mut phone = Phone::with(&[]);
    let effects = phone.acts(picked(all_but_one.into_bytes()));
    phone.settles(effects, &[]);
    phone.acts(Action::TakeIn);
    phone.acts(picked(bytes));
    phone.acts(Action::TakeIn);
    let (words, doubtful) = doubts(&phone);
    assert_eq!(doubtful.len(), 1);
    assert_eq!(
        words,
        "1 line of this file may have been changed on its way: its own check does not match. Take it in only if there is no better copy. Nothing else in it is new."
    );
}

#[test]
fn a_file_without_an_end_gives_what_is_whole_and_says_how_much_that_was() {
    let text = String::from_utf8(DEMO.to_vec()).expect("text");
    let cut: String = text
        .lines()
        .take(101)
        .map(|line| format!("{line}\n"))
        .collect();
    let mut phone = Phone::with(&[]);
    let effects = phone.acts(picked(cut.into_bytes()));
    phone.settles(effects, &[]);
    phone.acts(Action::TakeIn);
    assert_eq!(
        phone
            .model
            .open
            .as_ref()
            .expect("a job")
            .journal
            .lines()
            .len(),
        100
    );
    assert!(
        phone.told().contains("100 lines in it are whole"),
        "{}",
        phone.told()
    );
    // And once more, now that the rest is here: it says what came in.
    let stored: Vec<String> = text.lines().skip(1).take(50).map(str::to_owned).collect();
    let mut phone = Phone::with(&[(marrowby::JOB, marrowby::NAME)]);
    let effects = phone.acts(picked(DEMO.to_vec()));
    phone.settles(effects, &stored);
    phone.acts(Action::TakeIn);
    let new = jobfile::read(DEMO).lines.len() - 50;
    assert!(
        phone
            .told()
            .ends_with(&format!("{new} new records were taken in.")),
        "{}",
        phone.told()
    );
}

#[test]
fn a_name_that_comes_with_a_file_reaches_the_list() {
    let mut lines = jobfile::read(DEMO).lines;
    let mut other = Phone::with(&[]);
    let effects = other.acts(Action::DemoFetched(Ok(DEMO.to_vec())));
    other.settles(effects, &lines);
    other.renames("Mill, phase two");
    lines = other.lines();

    // The list of this phone still has the old name when the job is read with the new one.
    let mut phone = Phone::with(&[(marrowby::JOB, marrowby::NAME)]);
    let effects = phone.acts(Action::OpenJob(marrowby::JOB));
    phone.settles(effects, &lines);
    assert_eq!(phone.list(), [card(marrowby::JOB, "Mill, phase two")]);
}

#[test]
fn a_link_to_a_job_that_is_not_here_makes_no_job() {
    let mut phone = Phone::with(&[]);
    let effects = phone.acts(Action::HashChanged(wall_of(marrowby::JOB).print()));
    phone.settles(effects, &[]);
    assert!(phone.model.open.is_none());
    assert_eq!(phone.model.route, Route::Jobs);
    assert!(
        phone.told().contains("not on this device"),
        "{}",
        phone.told()
    );
    // As long as the list is not read, nobody can tell.
    let mut phone = Phone::with(&[]);
    phone.model.jobs = JobList::Reading;
    let effects = phone.acts(Action::HashChanged(wall_of(marrowby::JOB).print()));
    assert!(matches!(effects.as_slice(), [.., Effect::ReadJob(_)]));
    let read = Action::JobRead {
        job: marrowby::JOB,
        lines: Ok(Found {
            items: Vec::new(),
            unreadable: 0,
        }),
    };
    assert_eq!(phone.acts(read), [Effect::ReadJob(marrowby::JOB)]);
    assert!(phone.model.open.is_none());
    // Where the list has it, an empty job is one that was begun, or that was not stored in time.
    let mut phone = Phone::with(&[(marrowby::JOB, marrowby::NAME)]);
    let effects = phone.acts(Action::HashChanged(wall_of(marrowby::JOB).print()));
    phone.settles(effects, &[]);
    assert!(phone.model.open.is_some());
    assert!(
        phone.told().contains("left before it was saved"),
        "{}",
        phone.told()
    );
}

#[test]
fn an_errand_in_the_address_is_done_once() {
    for (hash, jobs) in [("/new/Barn", false), ("/open", true), ("/demo", true)] {
        let mut phone = Phone::with(&[]);
        let effects = phone.acts(Action::HashChanged(hash.to_owned()));
        assert_eq!(
            effects.first(),
            Some(&Effect::ReplaceHash(Route::Jobs.print())),
            "{hash}"
        );
        assert_eq!(phone.model.route == Route::Jobs, jobs, "{hash}");
    }
}

#[test]
fn a_large_job_opens_piece_by_piece_and_says_how_far_it_is() {
    let lines = crate::support::large::large_job(3000, 1);
    assert!(lines.len() > 4000, "{}", lines.len());
    let job = crate::support::large::JOB;
    let mut phone = Phone::with(&[(job, "Large")]);
    phone.acts(Action::OpenJob(job));
    // As they are stored: many together, and some singly.
    let mut items: Vec<String> = lines[1..3001]
        .chunks(500)
        .map(|some| some.join("\n"))
        .collect();
    items.extend_from_slice(&lines[3001..]);
    let found = Found {
        items,
        unreadable: 0,
    };
    let mut effects = phone.acts(Action::JobRead {
        job,
        lines: Ok(found),
    });
    let mut pieces = 1;
    while effects == [Effect::OpenFurther] {
        let opening = phone.model.opening.as_ref().expect("it is on its way");
        let (taken, of) = opening.progress();
        assert!(taken >= pieces << 21 || taken == of, "{taken} of {of}");
        assert!(phone.model.open.is_none());
        if pieces == 1 {
            // Another window writes meanwhile.
            let lines = vec![lines[0].clone()];
            phone.acts(Action::LinesArrived { job, lines });
        }
        effects = phone.acts(Action::OpenFurther);
        pieces += 1;
    }
    assert!(pieces > 2);
    assert!(effects.contains(&Effect::Gather(job)), "{effects:?}");
    let open = phone.model.open.as_ref().expect("it is open");
    assert_eq!(open.journal.len(), lines.len());
    assert_eq!(open.journal.health(), bothends::journal::Health::default());
    // One that is left while it opens is left.
    phone.acts(Action::GoToJobs);
    assert_eq!(phone.acts(Action::OpenFurther), []);
}

#[test]
fn the_bar_says_what_its_button_does_after_an_undo_and_forgets_it_with_a_setting() {
    let mut phone = Phone::with(&[]);
    phone.starts("Marrowby Mill");
    phone.renames("Weir cottage");
    // The name that the button leads to, and whether it says "Do it again".
    for (name, is_again) in [
        ("Marrowby Mill", true),
        ("Weir cottage", false),
        ("Marrowby Mill", true),
    ] {
        let Some(Notice::Done { act, .. }) = phone.model.notice.clone() else {
            panic!("nothing to undo");
        };
        let want = Want::Undo { act };
        phone.acts(Action::Do { want, then: None });
        assert_eq!(phone.model.open.as_ref().expect("a job").name(), name);
        let said = matches!(phone.model.notice, Some(Notice::Done { again, .. }) if again);
        assert_eq!(said, is_again, "{name}");
    }
    phone.acts(Action::SetUnit(LengthUnit::Metres));
    assert_eq!(phone.model.notice, None);
    phone.renames("Mill cottage");
    phone.acts(Action::SetTheme(Theme::Cellar));
    assert_eq!(phone.model.notice, None);
}
