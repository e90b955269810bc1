//! Tails onto positions, as plain numbers: as many as can be, an outlet's side by side, in order.
//!
//! How many are landed comes first and is exact ([`Flow`]). Then as few outlets as possible are
//! split; putting bundles into stretches without splitting is the packing of bins, so several ways
//! are tried, and few bundles are searched through. Room for growth is kept at the end of each board
//! as long as that splits nobody.

/// Few bundles, searched through to the end.
mod search;

use super::flow::Flow;
use crate::domain::order::Order;

/// A cable end that wants a position.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Tail {
    /// Which positions it fits, as a place among the classes.
    pub class: usize,
    /// What it should lie side by side with: those of its outlet.
    pub outlet: usize,
    /// What it is for, as a place among the ranks.
    pub purpose: usize,
    /// The kind of its outlet, as a number; 0: not known.
    pub said: usize,
}

/// Positions of one panel, or terminals that are shared.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Board {
    /// The pool that its positions belong to.
    pub pool: usize,
    /// How many free positions lie side by side, stretch by stretch.
    pub stretches: Vec<usize>,
    /// The kinds of outlet whose cables have positions there, as numbers.
    pub said: Vec<usize>,
}

/// So many tails that no job has them: what shared terminals take.
pub(super) const ENDLESS: usize = u32::MAX as usize;

/// What is to be allotted.
#[derive(Clone, Debug, Default)]
pub(super) struct Bench {
    /// The tails in walking order; those of an outlet follow one another.
    pub tails: Vec<Tail>,
    /// The pools that each class fits, the best first.
    pub classes: Vec<Vec<usize>>,
    /// How many tails each pool takes: as many as its boards have positions.
    pub pools: Vec<usize>,
    /// The boards in the order in which they are filled.
    pub boards: Vec<Board>,
    /// For each purpose and each board: 0 for what it serves, 1 for any board, 2 for one that is
    /// there for something else.
    pub ranks: Vec<Vec<u8>>,
}

impl Bench {
    /// Whether a pool is one of terminals that take any number.
    fn is_shared(&self, pool: usize) -> bool {
        self.pools[pool] == ENDLESS
    }
}

/// What a board keeps free at its end, stretch by stretch.
fn kept(board: &Board, growth: usize) -> Vec<usize> {
    let free: usize = board.stretches.iter().sum();
    let mut wanted = free.checked_div(growth).unwrap_or(0);
    let mut kept: Vec<usize> = board
        .stretches
        .iter()
        .rev()
        .map(|stretch| {
            let kept = wanted.min(*stretch);
            wanted -= kept;
            kept
        })
        .collect();
    kept.reverse();
    kept
}

/// Where a tail is proposed to land.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Spot {
    /// The board.
    pub board: usize,
    /// The place among its free positions, from 0.
    pub at: usize,
}

/// Tails that should lie side by side, all of one class.
struct Bundle {
    class: usize,
    purpose: usize,
    /// The kind of outlet of its tails.
    said: usize,
    tails: Vec<usize>,
}

/// Some tails of a bundle on one stretch.
#[derive(Clone, Copy)]
struct Piece {
    bundle: usize,
    board: usize,
    stretch: usize,
    count: usize,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Way {
    /// Bundles as one walks, each on a board that serves the same already, else on an empty one.
    Alike,
    /// Bundles as one walks, boards one after the other.
    InOrder,
    /// Bundles as one walks, each where it leaves the least room.
    Snug,
    /// The largest bundles first, each where it leaves the least room.
    LargeFirst,
}

/// The share of its free positions that a board keeps for growth, as divisors: a sixth, else a
/// twelfth, else none. Common practice, no source.
const GROWTH: [usize; 3] = [6, 12, 0];
/// So many bundles are searched through for a way that splits fewer.
const FEW: usize = 12;

/// Proposes a place for as many tails as can have one.
pub(super) fn allot(bench: &Bench) -> Vec<Option<Spot>> {
    let mut flow = Flow::new(&bench.classes, bench.pools.clone());
    let admitted: Vec<bool> = bench
        .tails
        .iter()
        .map(|tail| flow.admit(tail.class))
        .collect();
    let some = bundles(bench, &admitted);
    let (split, pieces) = laid_out(bench, &flow, &some);
    let all = bundles(bench, &vec![true; bench.tails.len()]);
    if split > 0 && all.len() <= FEW {
        let most = admitted.iter().filter(|admitted| **admitted).count();
        if let Some(fewer) = search::search(bench, &all, most, split) {
            return spots(bench, &all, fewer);
        }
    }
    spots(bench, &some, pieces)
}

fn bundles(bench: &Bench, admitted: &[bool]) -> Vec<Bundle> {
    let mut bundles: Vec<Bundle> = Vec::new();
    let mut outlet = usize::MAX;
    // Only the bundles of the outlet at hand are looked through.
    let mut first = 0;
    for (at, tail) in bench.tails.iter().enumerate() {
        if outlet != tail.outlet {
            outlet = tail.outlet;
            first = bundles.len();
        }
        if !admitted[at] {
            continue;
        }
        let own = bundles[first..]
            .iter_mut()
            .find(|bundle| bundle.class == tail.class && bundle.purpose == tail.purpose);
        match own {
            Some(bundle) => bundle.tails.push(at),
            None => bundles.push(Bundle {
                class: tail.class,
                purpose: tail.purpose,
                said: tail.said,
                tails: vec![at],
            }),
        }
    }
    bundles
}

/// As few split as several ways of laying bundles tell; how many, and where the pieces are.
fn laid_out(bench: &Bench, flow: &Flow<'_>, bundles: &[Bundle]) -> (usize, Vec<Piece>) {
    let mut growth = vec![0; bench.pools.len()];
    let (mut split, mut pieces) = loop {
        let (split, desk) = Desk::new(bench, flow, bundles, &growth).lay(Way::Alike);
        let mut tight = desk.spilled();
        tight.retain(|pool| growth[*pool] + 1 < GROWTH.len());
        if tight.is_empty() {
            break (split, desk.pieces);
        }
        for pool in tight {
            growth[pool] += 1;
        }
    };
    for way in [Way::InOrder, Way::Snug, Way::LargeFirst] {
        if split > 0 {
            let (fewer, desk) = Desk::new(bench, flow, bundles, &growth).lay(way);
            if fewer < split {
                (split, pieces) = (fewer, desk.pieces);
            }
        }
    }
    (split, pieces)
}

/// The boards of each pool.
fn of_pool(bench: &Bench) -> Vec<Vec<usize>> {
    let mut of_pool = vec![Vec::new(); bench.pools.len()];
    for (at, board) in bench.boards.iter().enumerate() {
        of_pool[board.pool].push(at);
    }
    of_pool
}

/// What has been laid out so far.
#[derive(Clone)]
struct Desk<'a> {
    bench: &'a Bench,
    bundles: &'a [Bundle],
    flow: Flow<'a>,
    /// The boards of each pool that have room left.
    of_pool: Vec<Vec<usize>>,
    /// What is left of each stretch of each board.
    room: Vec<Vec<usize>>,
    /// What is kept for growth, stretch by stretch like the room.
    kept: Vec<Vec<usize>>,
    /// Where the last bundle of each purpose came to lie, so that the next one goes on there.
    last: Vec<usize>,
    /// The kinds of outlet whose cables lie on each board.
    said: Vec<Vec<usize>>,
    pieces: Vec<Piece>,
    late: Vec<usize>,
    is_late: bool,
}

impl<'a> Desk<'a> {
    fn new(bench: &'a Bench, flow: &Flow<'a>, bundles: &'a [Bundle], growth: &[usize]) -> Self {
        let room: Vec<Vec<usize>> = bench.boards.iter().map(|b| b.stretches.clone()).collect();
        let mut desk = Self {
            bench,
            bundles,
            flow: flow.clone(),
            of_pool: of_pool(bench),
            kept: Vec::new(),
            room,
            last: vec![0; bench.ranks.len()],
            said: bench
                .boards
                .iter()
                .map(|board| board.said.clone())
                .collect(),
            pieces: Vec::new(),
            late: Vec::new(),
            is_late: false,
        };
        desk.kept = bench
            .boards
            .iter()
            .map(|board| kept(board, GROWTH[growth[board.pool]]))
            .collect();
        desk.give_or_keep(|room, kept| *room -= kept);
        desk
    }

    fn give_or_keep(&mut self, change: impl Fn(&mut usize, usize)) {
        for (room, kept) in self.room.iter_mut().zip(&self.kept) {
            for (room, kept) in room.iter_mut().zip(kept) {
                change(room, *kept);
            }
        }
    }

    /// The pools that needed what was kept for growth.
    fn spilled(&self) -> Vec<usize> {
        let boards = self.bench.boards.iter().enumerate();
        let spilled = boards.filter(|(at, _)| {
            let mut both = self.room[*at].iter().zip(&self.kept[*at]);
            both.any(|(room, kept)| room < kept)
        });
        let mut pools: Vec<usize> = spilled.map(|(_, board)| board.pool).collect();
        pools.put_in_order();
        pools.dedup();
        pools
    }

    /// Lays all bundles; says how many are split.
    fn lay(mut self, way: Way) -> (usize, Self) {
        let mut order: Vec<usize> = (0..self.bundles.len()).collect();
        if way == Way::LargeFirst {
            order.order_by_key(|at| usize::MAX - self.bundles[*at].tails.len());
        }
        for bundle in order {
            if !self.lay_whole(bundle, way) {
                self.late.push(bundle);
            }
        }
        (self.lay_late(), self)
    }

    /// Lays a bundle on one stretch, if there is one that costs nobody a place.
    fn lay_whole(&mut self, bundle: usize, way: Way) -> bool {
        let of = &self.bundles[bundle];
        let count = of.tails.len();
        let ranks = &self.bench.ranks[of.purpose];
        let mut barred: Vec<usize> = Vec::new();
        loop {
            let mut best = None;
            for (at, pool) in self.bench.classes[of.class].iter().enumerate() {
                if barred.contains(pool) || self.bench.is_shared(*pool) {
                    continue;
                }
                for board in self.of_pool[*pool].iter().copied() {
                    // What serves something else is taken when even the room for growth is used.
                    if ranks[board] > 1 && !self.is_late {
                        continue;
                    }
                    let alike = match way {
                        Way::Alike => self.alike(of.said, board),
                        Way::InOrder | Way::Snug | Way::LargeFirst => 0,
                    };
                    for (stretch, room) in self.room[board].iter().copied().enumerate() {
                        if room < count {
                            continue;
                        }
                        let tie = match way {
                            Way::Alike | Way::InOrder => usize::from(board < self.last[of.purpose]),
                            Way::Snug | Way::LargeFirst => room - count,
                        };
                        let key = (ranks[board], at, alike, tie, board, stretch);
                        if best.is_none_or(|best| key < best) {
                            best = Some(key);
                        }
                    }
                }
            }
            let Some((_, at, _, _, board, stretch)) = best else {
                return false;
            };
            let pool = self.bench.classes[of.class][at];
            if self.flow.steer(of.class, pool, count) == count {
                self.put(bundle, board, stretch, count);
                return true;
            }
            barred.push(pool);
        }
    }

    /// Lays what found no stretch of its own; says how many bundles are split for it.
    fn lay_late(&mut self) -> usize {
        self.give_or_keep(|room, kept| *room += kept);
        self.of_pool = of_pool(self.bench);
        self.is_late = true;
        let mut late = std::mem::take(&mut self.late);
        late.put_in_order();
        late.retain(|bundle| !self.lay_whole(*bundle, Way::Alike));
        late.retain(|bundle| self.lay_in_pieces(*bundle) > 1);
        late.len()
    }

    /// Lays a bundle in as few pieces as it takes, on shared terminals what has no other place; says
    /// into how many pieces it is split.
    fn lay_in_pieces(&mut self, bundle: usize) -> usize {
        let of = &self.bundles[bundle];
        let ranks = &self.bench.ranks[of.purpose];
        let mut left = of.tails.len();
        let mut split = 0;
        while left > 0 {
            let mut best = None;
            for pool in &self.bench.classes[of.class] {
                let can = self.flow.steer(of.class, *pool, left);
                let shared = self.bench.is_shared(*pool);
                for board in self.of_pool[*pool].iter().copied() {
                    for (stretch, room) in self.room[board].iter().copied().enumerate() {
                        let count = room.min(can);
                        let key = (shared, left - count, ranks[board], board, stretch);
                        if count > 0 && best.is_none_or(|(_, best)| key < best) {
                            best = Some((*pool, key));
                        }
                    }
                }
            }
            // All were admitted, so each has room somewhere.
            let Some((pool, (shared, after, _, board, stretch))) = best else {
                break;
            };
            // Looking at other pools may have moved tails out of this one again.
            let count = self.flow.steer(of.class, pool, left - after);
            self.put(bundle, board, stretch, count);
            left -= count;
            split += usize::from(!shared);
        }
        split
    }

    /// How well a board suits the cables of a kind of outlet: 0 where it serves the same, 1 where it is
    /// empty, 2 where it serves something else.
    fn alike(&self, said: usize, board: usize) -> u8 {
        let there = &self.said[board];
        match said {
            0 => 0,
            _ if there.contains(&said) => 0,
            _ => 1 + u8::from(!there.is_empty()),
        }
    }

    fn put(&mut self, bundle: usize, board: usize, stretch: usize, count: usize) {
        let of = &self.bundles[bundle];
        let pool = self.bench.boards[board].pool;
        self.flow.settle(of.class, pool, count);
        self.room[board][stretch] -= count;
        if self.room[board].iter().all(|room| *room == 0) {
            self.of_pool[pool].retain(|other| *other != board);
        }
        self.last[of.purpose] = board;
        if of.said > 0 && !self.said[board].contains(&of.said) {
            self.said[board].push(of.said);
        }
        self.pieces.push(Piece {
            bundle,
            board,
            stretch,
            count,
        });
    }
}

/// From pieces to places: on each stretch, bundles lie in walking order from its beginning. What a
/// board is not there for lies at its end, so that the room for growth is between the two.
fn spots(bench: &Bench, bundles: &[Bundle], mut pieces: Vec<Piece>) -> Vec<Option<Spot>> {
    let is_guest = |piece: &Piece| bench.ranks[bundles[piece.bundle].purpose][piece.board] > 1;
    pieces.order_by_key(|piece| (piece.board, piece.stretch, is_guest(piece), piece.bundle));
    let mut given = vec![0; bundles.len()];
    let mut spots = vec![None; bench.tails.len()];
    for here in pieces.chunk_by(|a, b| (a.board, a.stretch) == (b.board, b.stretch)) {
        let Piece { board, stretch, .. } = here[0];
        let stretches = &bench.boards[board].stretches;
        let start: usize = stretches[..stretch].iter().sum();
        let guests: usize = here
            .iter()
            .filter(|piece| is_guest(piece))
            .map(|piece| piece.count)
            .sum();
        let mut at = start;
        for piece in here {
            if is_guest(piece) {
                at = at.max(start + stretches[stretch] - guests);
            }
            for _ in 0..piece.count {
                let tail = bundles[piece.bundle].tails[given[piece.bundle]];
                spots[tail] = Some(Spot { board, at });
                given[piece.bundle] += 1;
                at += 1;
            }
        }
    }
    spots
}
