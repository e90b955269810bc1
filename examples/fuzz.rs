//! Gives every reader hostile input for a while: `cargo run --profile fuzz --example fuzz -- SECONDS
//! [READER …]`, or `… -- again READER FILE …` for inputs that failed.
//!
//! A failure is a panic, an input that takes longer than [`SLOWEST`], or one that needs more memory than
//! [`most_memory`] allows. It is made as small as it gets, and written to `target/fuzz`.

#[path = "../tests/support"]
mod support {
    pub(crate) mod fuzz;
}

use std::cell::RefCell;
use std::error::Error;
use std::hash::{BuildHasher, Hasher, RandomState};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Duration;

use peak_alloc::PeakAlloc;
use support::fuzz::{READERS, Reader, corpus, mutated};

#[global_allocator]
static MEMORY: PeakAlloc = PeakAlloc;

#[expect(
    clippy::disallowed_types,
    reason = "the core owns no clock; this is none of it"
)]
type Clock = std::time::Instant;

/// The longest that one input of at most a mebibyte may take.
const SLOWEST: Duration = Duration::from_secs(2);

/// When an input is given up that does not come to an end.
const ENDLESS: Duration = Duration::from_secs(20);

/// The stack of a thread in a browser is about that large.
const STACK: usize = 1 << 20;

/// The most memory that an input of so many bytes may need, the checks of what was read counted in.
fn most_memory(bytes: usize) -> usize {
    (16 << 20) + bytes * 256
}

/// The seed that is being tried, and when it was begun, for whoever watches.
static SEED: AtomicU64 = AtomicU64::new(0);
static BEGUN: AtomicU64 = AtomicU64::new(0);

thread_local! {
    static PANIC: RefCell<String> = const { RefCell::new(String::new()) };
}

/// What one input cost.
struct Cost {
    time: Duration,
    memory: usize,
}

/// Has an input read.
fn tried(reader: &Reader, bytes: &[u8]) -> Result<Cost, String> {
    MEMORY.reset_peak_usage();
    let before = MEMORY.current_usage();
    let clock = Clock::now();
    let read = catch_unwind(AssertUnwindSafe(|| (reader.read)(bytes)));
    let time = clock.elapsed();
    let memory = MEMORY.peak_usage().saturating_sub(before);
    if read.is_err() {
        return Err(PANIC.take());
    }
    if memory > most_memory(bytes.len()) {
        return Err(format!("takes {memory} bytes of memory"));
    }
    Ok(Cost { time, memory })
}

/// The same; what was slow is tried once more, as other work may have held it up.
fn tried_fairly(reader: &Reader, bytes: &[u8]) -> Result<Cost, String> {
    let mut cost = tried(reader, bytes)?;
    if cost.time > SLOWEST {
        cost = tried(reader, bytes)?;
    }
    match cost.time > SLOWEST {
        true => Err(format!("takes {:?}", cost.time)),
        false => Ok(cost),
    }
}

/// The smallest input found that fails too, by leaving parts out, ever smaller ones.
fn smallest(reader: &Reader, mut bytes: Vec<u8>) -> Vec<u8> {
    let clock = Clock::now();
    let mut part = bytes.len() / 2;
    while part > 0 && clock.elapsed() < ENDLESS {
        let mut at = 0;
        while at < bytes.len() && clock.elapsed() < ENDLESS {
            let end = bytes.len().min(at + part);
            let less = [&bytes[..at], &bytes[end..]].concat();
            match tried_fairly(reader, &less) {
                Err(_) => bytes = less,
                Ok(_) => at = end,
            }
        }
        part /= 2;
    }
    bytes
}

fn kept(reader: &Reader, name: &str, bytes: &[u8]) -> std::io::Result<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("target/fuzz")
        .join(reader.name);
    std::fs::create_dir_all(&folder)?;
    let path = folder.join(name);
    std::fs::write(&path, bytes)?;
    Ok(path)
}

/// Ends the program when one input takes for ever.
fn watch(reader: &'static Reader, files: &[Vec<u8>], start: Clock) {
    let files = files.to_vec();
    std::thread::spawn(move || {
        loop {
            std::thread::sleep(Duration::from_secs(1));
            let begun = Duration::from_millis(BEGUN.load(Ordering::Relaxed));
            let seed = SEED.load(Ordering::Relaxed);
            if seed > 0 && start.elapsed().saturating_sub(begun) > ENDLESS {
                let path = kept(reader, &format!("{seed}-endless"), &mutated(&files, seed));
                say(&format!(
                    "{}: seed {seed} does not end: {path:?}",
                    reader.name
                ));
                std::process::exit(1);
            }
        }
    });
}

#[expect(clippy::print_stdout, reason = "this is what it prints")]
fn say(words: &str) {
    println!("{words}");
}

/// Tries seeds until the time is up; gives how many failed.
fn run(reader: &'static Reader, time: Duration) -> Result<usize, Box<dyn Error>> {
    let files: Vec<Vec<u8>> = corpus(reader).into_iter().map(|(_, bytes)| bytes).collect();
    let first = (RandomState::new().build_hasher().finish() >> 16) + 1;
    let clock = Clock::now();
    watch(reader, &files, clock);
    let (mut seed, mut bytes, mut slowest, mut thirstiest) = (first, 0, Duration::ZERO, 0);
    let mut failures: Vec<String> = Vec::new();
    // What ends the whole program, such as a stack that is full, leaves its seed here.
    let note = kept(reader, "seed", b"")?;
    while clock.elapsed() < time && failures.len() < 10 {
        if seed.is_multiple_of(64) || seed == first {
            std::fs::write(&note, seed.to_string())?;
        }
        let input = mutated(&files, seed);
        BEGUN.store(
            u64::try_from(clock.elapsed().as_millis())?,
            Ordering::Relaxed,
        );
        SEED.store(seed, Ordering::Relaxed);
        bytes += input.len();
        match tried_fairly(reader, &input) {
            Ok(cost) => {
                slowest = slowest.max(cost.time);
                thirstiest = thirstiest.max(cost.memory / (input.len() + (1 << 16)));
            }
            // One for each place is enough.
            Err(words)
                if failures
                    .iter()
                    .any(|known| known.lines().eq(words.lines().take(1))) => {}
            Err(words) => {
                SEED.store(0, Ordering::Relaxed);
                let least = smallest(reader, input);
                let path = kept(reader, &seed.to_string(), &least)?;
                say(&format!(
                    "  {}: seed {seed}: {words}\n    {}",
                    reader.name,
                    path.display()
                ));
                failures.extend(words.lines().next().map(str::to_owned));
            }
        }
        seed += 1;
    }
    SEED.store(0, Ordering::Relaxed);
    std::fs::remove_file(&note)?;
    say(&format!(
        "{}: {} inputs of {} bytes on average, seeds {first} to {}, in {} s; the slowest took {} ms, the most memory was {thirstiest} bytes for each byte and 64 KiB; {} failures",
        reader.name,
        seed - first,
        bytes as u64 / (seed - first).max(1),
        seed - 1,
        clock.elapsed().as_secs(),
        slowest.as_millis(),
        failures.len(),
    ));
    Ok(failures.len())
}

/// Has files read that failed once.
fn again(arguments: &[String]) -> Result<usize, Box<dyn Error>> {
    let (name, files) = arguments
        .split_first()
        .ok_or("Say which reader and which files.")?;
    let reader = reader(name)?;
    let mut failed = 0;
    for file in files {
        match tried_fairly(reader, &std::fs::read(file)?) {
            Ok(cost) => say(&format!("{file}: {:?}, {} bytes", cost.time, cost.memory)),
            Err(words) => {
                failed += 1;
                say(&format!("{file}: {words}"));
            }
        }
    }
    Ok(failed)
}

fn reader(name: &str) -> Result<&'static Reader, String> {
    let mut all = READERS.iter();
    all.find(|reader| reader.name == name)
        .ok_or_else(|| format!("There is no reader {name}."))
}

fn all(arguments: &[String]) -> Result<usize, Box<dyn Error>> {
    let (first, names) = arguments
        .split_first()
        .ok_or("Say for how many seconds each.")?;
    if first == "again" {
        return again(names);
    }
    let time = Duration::from_secs(first.parse()?);
    let mut failed = 0;
    for chosen in &READERS {
        if names.is_empty() || names.iter().any(|name| name == chosen.name) {
            failed += run(chosen, time)?;
        }
    }
    Ok(failed)
}

fn main() {
    std::panic::set_hook(Box::new(|panic| {
        // What differs may be as long as the input.
        PANIC.set(panic.to_string().chars().take(300).collect());
    }));
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let work = move || all(&arguments).map_err(|trouble| trouble.to_string());
    let thread = std::thread::Builder::new().stack_size(STACK).spawn(work);
    let done = thread.map(|thread| thread.join().unwrap_or_else(|_| Err(PANIC.take())));
    match done {
        Ok(Ok(0)) => {}
        Ok(Ok(failed)) => {
            say(&format!("{failed} failures; the inputs are in target/fuzz"));
            std::process::exit(1);
        }
        Ok(Err(words)) => {
            say(&words);
            std::process::exit(2);
        }
        Err(trouble) => say(&trouble.to_string()),
    }
}
