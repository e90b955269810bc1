//! A search through the ways to lay few bundles, for one that splits fewer than are known.
//!
//! Who is left out where there are too few positions is part of the search, as long as there are
//! never more of them than need be.

use super::{Bench, Bundle, Desk, Flow, Piece};
use crate::domain::order::Order;

/// No more states than this are looked at.
const STATES: usize = 20_000;

/// Lays as many tails as is possible with fewer bundles split than are known to be needed; none where
/// no such way is found.
pub(super) fn search(
    bench: &Bench,
    bundles: &[Bundle],
    most: usize,
    known: usize,
) -> Option<Vec<Piece>> {
    let mut search = Search {
        bench,
        bundles,
        most,
        least: known,
        found: None,
        left: STATES,
    };
    let room = bench.boards.iter().map(|b| b.stretches.clone()).collect();
    search.go(
        0,
        &State {
            room,
            pools: bench.pools.clone(),
            pieces: Vec::new(),
            late: Vec::new(),
        },
    );
    search.found
}

struct Search<'a> {
    bench: &'a Bench,
    bundles: &'a [Bundle],
    most: usize,
    least: usize,
    found: Option<Vec<Piece>>,
    left: usize,
}

/// What the bundles so far have left.
#[derive(Clone)]
struct State {
    room: Vec<Vec<usize>>,
    pools: Vec<usize>,
    pieces: Vec<Piece>,
    /// The bundles that are laid where there is room at the end.
    late: Vec<usize>,
}

impl Search<'_> {
    fn go(&mut self, bundle: usize, state: &State) {
        if self.least == 0 || self.left == 0 || !self.reaches(bundle, state) {
            return;
        }
        self.left -= 1;
        let Some(of) = self.bundles.get(bundle) else {
            self.end(state);
            return;
        };
        let mut seen: Vec<(usize, usize, usize)> = Vec::new();
        for count in (0..=of.tails.len()).rev() {
            for (pool, board, stretch) in self.stretches(bundle) {
                let room = state.room[board][stretch];
                // Stretches with as much room left are all the same to the count.
                if room < count || seen.contains(&(pool, room, count)) {
                    continue;
                }
                seen.push((pool, room, count));
                let mut next = state.clone();
                next.room[board][stretch] -= count;
                next.pools[pool] -= count;
                next.pieces.push(Piece {
                    bundle,
                    board,
                    stretch,
                    count,
                });
                self.go(bundle + 1, &next);
                if count == 0 {
                    break;
                }
            }
        }
        if state.late.len() + 1 < self.least || self.may_share(bundle) {
            let mut next = state.clone();
            next.late.push(bundle);
            self.go(bundle + 1, &next);
        }
    }

    /// Where a bundle can lie, the best first.
    fn stretches(&self, bundle: usize) -> Vec<(usize, usize, usize)> {
        let of = &self.bundles[bundle];
        let ranks = &self.bench.ranks[of.purpose];
        let mut all = Vec::new();
        for (at, board) in self.bench.boards.iter().enumerate() {
            let pools = &self.bench.classes[of.class];
            let place = pools.iter().position(|pool| *pool == board.pool);
            let Some(place) = place.filter(|_| !self.bench.is_shared(board.pool)) else {
                continue;
            };
            let stretches = 0..board.stretches.len();
            all.extend(stretches.map(|stretch| (ranks[at], place, board.pool, at, stretch)));
        }
        all.put_in_order();
        let all = all.into_iter();
        all.map(|(.., pool, board, stretch)| (pool, board, stretch))
            .collect()
    }

    fn may_share(&self, bundle: usize) -> bool {
        let mut pools = self.bench.classes[self.bundles[bundle].class].iter();
        pools.any(|pool| self.bench.is_shared(*pool))
    }

    /// Whether as many as possible can still be landed.
    fn reaches(&self, bundle: usize, state: &State) -> bool {
        let laid: usize = state.pieces.iter().map(|piece| piece.count).sum();
        let mut flow = Flow::new(&self.bench.classes, state.pools.clone());
        let rest = state.late.iter().copied().chain(bundle..self.bundles.len());
        let rest = rest.flat_map(|at| {
            let of = &self.bundles[at];
            std::iter::repeat_n(of.class, of.tails.len())
        });
        laid + rest.filter(|class| flow.admit(*class)).count() >= self.most
    }

    /// All bundles are decided upon: those that come late take what is left.
    fn end(&mut self, state: &State) {
        let mut flow = Flow::new(&self.bench.classes, state.pools.clone());
        // Of each late bundle, those that can be landed.
        let mut rest: Vec<Bundle> = Vec::new();
        for at in &state.late {
            let of = &self.bundles[*at];
            let mut tails = of.tails.clone();
            tails.retain(|_| flow.admit(of.class));
            rest.push(Bundle { tails, ..*of });
        }
        let growth = vec![super::GROWTH.len() - 1; state.pools.len()];
        let mut desk = Desk::new(self.bench, &flow, &rest, &growth);
        desk.room.clone_from(&state.room);
        desk.late = (0..rest.len()).collect();
        let split = desk.lay_late();
        if split < self.least {
            self.least = split;
            let mut pieces = state.pieces.clone();
            let late = desk.pieces.into_iter().map(|piece| Piece {
                bundle: state.late[piece.bundle],
                ..piece
            });
            pieces.extend(late);
            self.found = Some(pieces);
        }
    }
}
