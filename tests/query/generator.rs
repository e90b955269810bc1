//! Seeded jobs of people who disagree, undo and err: raw facts, unlawful ones included.
//!
//! The generator keeps its own account of who knew what, so that which facts are live is told
//! apart from the registry.

use std::collections::{HashMap, HashSet};

use bothends::domain::ids::{ActId, Bits80, CableId, JobId, WriterId};
use bothends::journal::{CableFact, Draft, EndFact, Fact, Journal, Signature, WallTime};

use super::flat::{Ids, flat};
use site::Site;

mod facts;
mod site;

/// Whole numbers from a seed (the generator `SplitMix64` of Steele, Lea and Flood, 2014).
#[derive(Clone)]
pub(super) struct Dice(u64);

impl Dice {
    /// Dice that fall the same for the same seed.
    pub(super) fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// A number below `limit`.
    pub(super) fn below(&mut self, limit: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        let limit = u64::try_from(limit).expect("a limit");
        usize::try_from((bits ^ (bits >> 31)) % limit).expect("a small number")
    }

    /// Dice of their own, from a seed that these draw.
    fn drawn(dice: &mut Self) -> Self {
        Self(u64::try_from(dice.below(1 << 30)).expect("a seed"))
    }

    /// Whether something that happens in so many of a hundred cases happens.
    pub(super) fn percent(&mut self, share: usize) -> bool {
        self.below(100) < share
    }

    /// One of several.
    pub(super) fn of<T: Clone>(&mut self, things: &[T]) -> T {
        things[self.below(things.len())].clone()
    }
}

/// An act as the generator remembers it.
struct Told {
    id: ActId,
    lamport: u64,
    facts: Vec<Fact>,
    replaces: Vec<(ActId, u32)>,
    strikes: Vec<ActId>,
}

/// Somebody's phone.
struct Phone {
    journal: Journal,
    site: Site,
    /// The acts that it has, as places in the list of all.
    known: Vec<usize>,
    /// The live facts of each field, by its key.
    live: HashMap<String, Vec<(ActId, u32)>>,
    top: u64,
}

/// A job on several phones.
pub(super) struct World {
    dice: Dice,
    ids: Ids,
    told: Vec<Told>,
    lines: Vec<String>,
    phones: Vec<Phone>,
}

/// A generated job: its lines in some order of arrival, and its live facts in the order of display.
pub(super) struct Generated {
    /// The stored acts.
    pub(super) lines: Vec<String>,
    /// The live facts.
    pub(super) live: Vec<Fact>,
    /// Who said each of them.
    pub(super) by: Vec<ActId>,
    /// The last names of runs that were withdrawn together with their names.
    pub(super) former: Vec<Fact>,
    /// Every placement that was ever said, with the rank of the last live fact up to it.
    pub(super) placed: Vec<(i64, Fact)>,
    /// The numbers in the place of ids.
    pub(super) ids: Ids,
}

/// The id of the job that all generated acts belong to.
pub(super) const JOB: JobId = JobId(Bits80([9; 10]));

impl World {
    fn new(seed: u64) -> Self {
        let phone = |number: u8| Phone {
            journal: Journal::new(JOB, WriterId(Bits80([number; 10]))),
            site: Site::default(),
            known: Vec::new(),
            live: HashMap::new(),
            top: 0,
        };
        Self {
            dice: Dice(seed),
            ids: Ids::default(),
            told: Vec::new(),
            lines: Vec::new(),
            phones: [7, 3, 5].map(phone).into(),
        }
    }

    /// Writes a draft on a phone, and remembers what it replaces by the generator's own account.
    fn write(&mut self, phone: usize, draft: Draft) {
        let at = &mut self.phones[phone];
        at.top += 1;
        let mut told = Told {
            id: draft.id(),
            lamport: at.top,
            facts: draft.facts.clone(),
            replaces: Vec::new(),
            strikes: draft.strikes.clone(),
        };
        let keys: Vec<_> = told
            .facts
            .iter()
            .map(|fact| flat(&mut self.ids, fact).setting)
            .map(|setting| setting.map(|setting| setting.key()))
            .collect();
        for key in keys.iter().flatten() {
            let replaced = at.live.get(key).cloned().unwrap_or_default();
            told.replaces.extend(replaced);
        }
        for key in keys.iter().flatten() {
            at.live.remove(key);
        }
        for (fact, key) in (0..).zip(keys) {
            if let Some(key) = key {
                at.live.entry(key).or_default().push((told.id, fact));
            }
        }
        let signature = Signature {
            by: "MW".to_owned(),
            wall: WallTime(0),
        };
        let written = at.journal.write(draft, signature).expect("a place");
        at.known.push(self.told.len());
        self.told.push(told);
        self.lines.push(written.line);
        if !self.told.last().expect("an act").strikes.is_empty() {
            self.recount(phone);
        }
    }

    /// Lets a phone have all that was told so far.
    fn catch_up(&mut self, phone: usize) {
        let lines = self.lines.iter().map(String::as_str);
        self.phones[phone].journal.take(lines);
        self.phones[phone].known = (0..self.told.len()).collect();
        let top = self.told.iter().map(|told| told.lamport).max();
        self.phones[phone].top = top.unwrap_or_default();
        self.recount(phone);
    }

    fn recount(&mut self, phone: usize) {
        let known = &self.phones[phone].known;
        let acts: Vec<&Told> = known.iter().map(|at| &self.told[*at]).collect();
        let mut live: HashMap<String, Vec<(ActId, u32)>> = HashMap::new();
        for (at, fact) in live_facts(&acts) {
            if let Some(setting) = flat(&mut self.ids, fact).setting {
                live.entry(setting.key()).or_default().push(at);
            }
        }
        self.phones[phone].live = live;
    }

    /// One act of a phone with the facts that `fill` puts in.
    fn act(&mut self, phone: usize, fill: impl FnOnce(&mut Site, &mut Draft, &mut Dice)) {
        let mut draft = self.phones[phone].journal.draft();
        fill(&mut self.phones[phone].site, &mut draft, &mut self.dice);
        self.write(phone, draft);
    }

    /// Two phones say something about the same field, each for itself.
    fn contest(&mut self) {
        let pick = Dice::drawn(&mut self.dice);
        for phone in [1, 2] {
            let mut pick = pick.clone();
            self.act(phone, |site, draft, dice| {
                facts::one(site, draft, &mut pick, dice);
            });
        }
    }

    fn strike(&mut self, phone: usize) {
        let known = &self.phones[phone].known;
        // The first acts add what all others speak of, so that much hangs on them.
        let known = if self.dice.percent(25) {
            &known[..60]
        } else {
            known
        };
        let target = self.told[self.dice.of(known)].id;
        let mut draft = self.phones[phone].journal.draft();
        draft.strikes.push(target);
        self.write(phone, draft);
    }

    fn work(&mut self, phone: usize, acts: usize) {
        for _ in 0..acts {
            self.act(phone, |site, draft, dice| {
                let mut pick = Dice::drawn(dice);
                for _ in 0..=dice.below(3) {
                    facts::one(site, draft, &mut pick, dice);
                }
            });
        }
    }
}

/// The facts that hold: an act counts unless a later one that counts strikes it, and a fact unless
/// its act does not count or one that counts replaces it. A link points to a smaller counter
/// always, so that going down by counter meets whatever strikes an act before the act.
fn live_facts<'a>(acts: &[&'a Told]) -> Vec<((ActId, u32), &'a Fact)> {
    let mut acts = acts.to_vec();
    acts.sort_by_key(|told| (told.lamport, told.id));
    let mut struck: HashSet<ActId> = HashSet::new();
    let mut replaced: HashSet<(ActId, u32)> = HashSet::new();
    for told in acts.iter().rev() {
        if !struck.contains(&told.id) {
            struck.extend(&told.strikes);
            replaced.extend(&told.replaces);
        }
    }
    let counted = acts.iter().filter(|told| !struck.contains(&told.id));
    counted
        .flat_map(|told| {
            let numbered = (0_u32..).zip(&told.facts);
            numbered.map(|(fact, content)| ((told.id, fact), content))
        })
        .filter(|(at, _)| !replaced.contains(at))
        .collect()
}

/// Every placement in the order of display, with the rank of the last live fact up to it.
fn placements(acts: &[&Told], live: &[((ActId, u32), &Fact)]) -> Vec<(i64, Fact)> {
    let live: HashSet<(ActId, u32)> = live.iter().map(|(at, _)| *at).collect();
    let mut acts = acts.to_vec();
    acts.sort_by_key(|told| (told.lamport, told.id));
    let mut rank = 0;
    let mut placed = Vec::new();
    for told in acts {
        for (at, fact) in (0_u32..).zip(&told.facts) {
            rank += i64::from(live.contains(&(told.id, at)));
            if let Fact::End(_, EndFact::Placed(_)) = fact {
                placed.push((rank, fact.clone()));
            }
        }
    }
    placed
}

/// The last name that each run ever had, of the runs whose adding and naming were both taken back.
fn former_names(acts: &[&Told], live: &[Fact]) -> Vec<Fact> {
    let held = |id: &CableId, naming: bool| {
        live.iter().any(|fact| match fact {
            Fact::Cable(other, CableFact::Added) => !naming && other == id,
            Fact::Cable(other, CableFact::Named(_)) => naming && other == id,
            _ => false,
        })
    };
    let mut acts = acts.to_vec();
    acts.sort_by_key(|told| (told.lamport, told.id));
    let mut last: HashMap<CableId, Fact> = HashMap::new();
    for fact in acts.iter().flat_map(|told| &told.facts) {
        if let Fact::Cable(id, CableFact::Named(_)) = fact {
            last.insert(*id, fact.clone());
        }
    }
    last.retain(|id, _| !held(id, false) && !held(id, true));
    last.into_values().collect()
}

/// Puts the facts of one act into its draft.
type Filling = fn(&mut Site, &mut Draft, &mut Dice);

/// Makes a job: one phone plans it, two work on it without meeting, the first resolves and takes
/// back some of what it hears, and one of the others takes back more without knowing of that.
pub(super) fn generate(seed: u64) -> Generated {
    let mut world = World::new(seed);
    let planned: [(usize, Filling); 6] = [
        (8, site::room),
        (5, site::rack),
        (8, site::panel),
        (2, site::gear),
        (26, site::outlet),
        (6, site::tie),
    ];
    for (times, filling) in planned {
        for _ in 0..times {
            world.act(0, filling);
        }
    }
    world.work(0, 80);
    for phone in [1, 2] {
        world.catch_up(phone);
        world.phones[phone].site = world.phones[0].site.clone();
    }
    // Phone 2 must not hear of what phone 1 does from here on, and the reverse.
    for _ in 0..90 {
        world.contest();
    }
    for phone in [1, 2] {
        world.work(phone, 60);
        world.act(phone, site::outlet);
        for _ in 0..5 {
            world.strike(phone);
        }
    }
    world.catch_up(0);
    world.work(0, 40);
    for _ in 0..12 {
        world.strike(0);
    }
    for _ in 0..4 {
        world.strike(2);
    }
    world.finish()
}

impl World {
    fn finish(mut self) -> Generated {
        let all: Vec<&Told> = self.told.iter().collect();
        let live = live_facts(&all);
        let placed = placements(&all, &live);
        let by = live.iter().map(|((act, _), _)| *act).collect();
        let live: Vec<Fact> = live.into_iter().map(|(_, fact)| fact.clone()).collect();
        let former = former_names(&all, &live);
        // The lines arrive in any order.
        for at in (1..self.lines.len()).rev() {
            let other = self.dice.below(at + 1);
            self.lines.swap(at, other);
        }
        Generated {
            lines: self.lines,
            live,
            by,
            former,
            placed,
            ids: self.ids,
        }
    }
}
