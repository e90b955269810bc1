//! The list of jobs: what is on it, and what it calls them.

use bothends::app::ports::{Found, JobCard};
use bothends::app::{Action, Effect, Field, Form, JobList, Model, Notice, update};
use bothends::command::Want;
use bothends::domain::ids::JobId;
use bothends::journal::WallTime;

use crate::support::still::Still;

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

    fn list(&self) -> Vec<JobCard> {
        match &self.model.jobs {
            JobList::Here(jobs) => jobs.clone(),
            other => panic!("no list: {other:?}"),
        }
    }
}

fn card(job: JobId, name: &str) -> JobCard {
    JobCard {
        id: job.0.to_string(),
        name: name.to_owned(),
    }
}

#[test]
fn the_list_calls_a_job_what_it_is_called_after_an_undo_too() {
    let mut phone = Phone::with(&[]);
    let job = phone.starts("Marrowby Mill");
    assert_eq!(phone.list(), [card(job, "Marrowby Mill")]);
    let effects = phone.renames("Weir cottage");
    assert!(effects.contains(&Effect::PutJob(card(job, "Weir cottage"))));
    assert_eq!(phone.list(), [card(job, "Weir cottage")]);
    let Some(Notice::Done { act, .. }) = phone.model.notice.clone() else {
        panic!("nothing to undo");
    };
    let want = Want::Undo { act };
    let effects = phone.acts(Action::Do { want, then: None });
    assert!(effects.contains(&Effect::PutJob(card(job, "Marrowby Mill"))));
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
            .any(|effect| matches!(effect, Effect::PutJob(_)))
    );
}
