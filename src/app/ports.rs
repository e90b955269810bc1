//! What the app needs of the outside, as traits that `platform` fulfils in the browser.
//!
//! Bytes and texts go through here, never things of the subject.

use std::fmt;

/// What a store makes of the bytes in which many lines lie together.
pub use crate::journal::readable;

/// What the history of the browser keeps of a screen, for whoever comes back to it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Way {
    /// How many screens of the app lie behind it.
    pub behind: usize,
    /// Which part of a long list was shown when it was left.
    pub page: usize,
    /// How far down it was then.
    pub top: i32,
}

/// A line to be stored for good, with the parts of its key.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StoredLine {
    /// Who wrote it.
    pub writer: String,
    /// Its number among that writer's lines.
    pub n: u32,
    /// Eight hexadecimal digits of the digest of the line, so that two contents under one writer
    /// and number are both kept.
    pub hash: String,
    /// The line.
    pub line: String,
}

/// A job as the list of jobs shows it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JobCard {
    /// Its id.
    pub id: String,
    /// What it is called; its id where the stored name cannot be read.
    pub name: String,
}

/// What was found in the store, and how much of it could not be read. What cannot be read is left
/// there as it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found<T> {
    /// What could be read.
    pub items: Vec<T>,
    /// How many things could not be read, or not wholly.
    pub unreadable: usize,
}

/// Why the outside did not do what it was asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// The browser refuses storage here, as it may in a private window.
    Blocked,
    /// There is no room left.
    Full,
    /// The store belongs to a newer version of the program.
    NewerStore,
    /// Another window holds an older version of the program open.
    HeldByOlder,
    /// Something is there but cannot be read.
    Unreadable(String),
    /// The file of this name is no picture.
    NoPicture(String),
    /// A picture could not be made smaller.
    NotShrunk,
    /// A part of the app is not on the device, and there is no network to fetch it.
    PartMissing,
    /// Anything else, in the browser's words.
    Other(String),
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Blocked => f.write_str(
                "This browser does not let the app store anything here. Leave the private window, or allow storage for this page.",
            ),
            Self::Full => f.write_str("There is no room left on this device. Free some, then try again; nothing was lost."),
            Self::NewerStore => f.write_str("The records here were kept by a newer version of this app. Reload the page to get it; until then nothing can be noted here. What is not saved yet is lost by reloading: take it out as a file first."),
            Self::HeldByOlder => f.write_str("Another window still runs an older version of this app. Close it, then reload."),
            Self::Unreadable(what) => write!(f, "Something stored here cannot be read ({what}). It was left as it is. The page rescue.html gives out all that is stored."),
            Self::NoPicture(name) => write!(f, "This browser cannot read {name} as a picture. Take another one, or choose a JPEG."),
            Self::NotShrunk => f.write_str("This device had no memory left to take the picture in. Close other apps, then take it again."),
            Self::PartMissing => f.write_str("This part of the app is not on the device yet, and the network is gone. Open the app on the network once; then it is there for good."),
            Self::Other(what) => write!(f, "The browser could not do it: {what}"),
        }
    }
}

/// The store of all jobs on this device.
#[expect(
    async_fn_in_trait,
    reason = "there is one thread, so no future has to be sent anywhere"
)]
pub trait Store {
    /// All jobs.
    async fn jobs(&self) -> Result<Found<JobCard>, Trouble>;

    /// Puts a job on the list, or renames it there.
    async fn put_job(&self, card: &JobCard) -> Result<(), Trouble>;

    /// Every line of a job, in no order that means anything, as texts of one line or of several with a line
    /// feed between. A line may come twice.
    async fn lines(&self, job: &str) -> Result<Found<String>, Trouble>;

    /// Stores lines, all or none. Done means that they are on the disk. A line that is there
    /// already, key and content, is no error; another content under its key is, and stays. With
    /// them goes what the list of jobs calls the job, where that is new. As many as [`TOGETHER`] are stored
    /// together, beside whatever is there.
    async fn add(
        &self,
        job: &str,
        lines: &[StoredLine],
        listed: Option<&JobCard>,
    ) -> Result<(), Trouble>;

    /// Takes a job off the disk with everything that belongs to it, all or none.
    async fn take_off(&self, job: &str) -> Result<(), Trouble>;

    /// Puts lines of a job that are stored singly together, all that make up [`TOGETHER`], so that they are
    /// read sooner the next time. Whenever this ends, every line is there.
    async fn gather(&self, job: &str) -> Result<(), Trouble>;
}

/// How many lines are stored together.
pub const TOGETHER: usize = 1000;

/// A picture as it is kept: twice, as JPEG drawn anew, so that nothing the camera wrote beside the
/// picture is in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PictureBytes {
    /// The picture, on which things are pointed out.
    pub whole: Vec<u8>,
    /// The same for lists.
    pub small: Vec<u8>,
}

/// In which of its two sizes a picture is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PictureSize {
    /// The picture.
    Whole,
    /// The same for lists.
    Small,
}

/// Where a picture comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PictureFrom {
    /// It is taken now.
    Camera,
    /// It is on the device.
    Device,
}

/// The store of the bytes of pictures, each under its job and the name that its digest gives it.
#[expect(
    async_fn_in_trait,
    reason = "there is one thread, so no future has to be sent anywhere"
)]
pub trait Pictures {
    /// Stores a picture in both sizes or not at all. Done means that it is on the disk; only then
    /// may a line name it. The same picture may be stored again.
    async fn keep_picture(
        &self,
        job: &str,
        name: &str,
        bytes: &PictureBytes,
    ) -> Result<(), Trouble>;

    /// A picture; none when it is not on this device.
    async fn picture(
        &self,
        job: &str,
        name: &str,
        size: PictureSize,
    ) -> Result<Option<Vec<u8>>, Trouble>;
}

/// What the browser says about keeping.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Keeping {
    /// It keeps everything until the person deletes it.
    Promised,
    /// It may clear everything when the device runs out of room, or after long disuse.
    MayBeCleared,
    /// It does not say.
    Unknown,
}

/// Room for everything stored by this app.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Room {
    /// Bytes in use, about.
    pub used: u64,
    /// Bytes that may be used in all, about.
    pub quota: u64,
    /// Whether they stay.
    pub keeping: Keeping,
}

/// What may be lost: names, units, the last screen.
pub trait Settings {
    /// The value of a setting; none when it was never set or cannot be had.
    fn get(&self, key: &str) -> Option<String>;

    /// Sets a setting, if the browser lets it.
    fn set(&self, key: &str, value: &str);
}
