//! How many tails can be landed at all, and which may go where without costing another its place.
//!
//! Tails that fit the same positions are of one class, and positions that take the same tails form
//! one pool, so a maximum matching of thousands of tails is a flow between a few dozen of each. It
//! is kept at its maximum throughout: a tail is only sent to a pool when all others still find room.

/// How many tails of each class go to each pool.
#[derive(Clone)]
pub(super) struct Flow<'a> {
    /// The pools that each class fits, the best first.
    classes: &'a [Vec<usize>],
    /// How many more each pool takes.
    left: Vec<usize>,
    /// Of each class, how many are sent to each of its pools, in the order of its list.
    sent: Vec<Vec<usize>>,
    /// Of each pool, the classes that fit it, with the place of the pool in the list of the class.
    fits: Vec<Vec<(usize, usize)>>,
}

impl<'a> Flow<'a> {
    /// Nothing is sent yet; each pool takes so many.
    pub(super) fn new(classes: &'a [Vec<usize>], room: Vec<usize>) -> Self {
        let mut fits = vec![Vec::new(); room.len()];
        for (class, pools) in classes.iter().enumerate() {
            for (at, pool) in pools.iter().enumerate() {
                fits[*pool].push((class, at));
            }
        }
        Self {
            classes,
            left: room,
            sent: classes.iter().map(|pools| vec![0; pools.len()]).collect(),
            fits,
        }
    }

    /// Sends one more tail of a class somewhere, moving others where that makes room. Says whether it
    /// could. Whoever is admitted first stays, so the order of asking decides who is left out, and
    /// never how many.
    pub(super) fn admit(&mut self, class: usize) -> bool {
        let classes = self.classes;
        let direct = classes[class].iter().position(|pool| self.left[*pool] > 0);
        if let Some(at) = direct {
            self.send(class, at);
            return true;
        }
        for (at, pool) in classes[class].iter().enumerate() {
            if self.make_room(*pool, None) {
                self.send(class, at);
                return true;
            }
        }
        false
    }

    /// Sees to it that as many of a class as wished, at most, are sent to a pool, and says how many
    /// are.
    pub(super) fn steer(&mut self, class: usize, pool: usize, wished: usize) -> usize {
        let classes = self.classes;
        let Some(to) = classes[class].iter().position(|other| *other == pool) else {
            return 0;
        };
        while self.sent[class][to] < wished && self.shift(class, to) {}
        self.sent[class][to].min(wished)
    }

    /// Moves one tail of a class from another pool into one.
    fn shift(&mut self, class: usize, to: usize) -> bool {
        let pool = self.classes[class][to];
        for from in (0..self.sent[class].len()).rev() {
            if from == to || self.sent[class][from] == 0 {
                continue;
            }
            self.take_back(class, from);
            if self.left[pool] > 0 || self.make_room(pool, Some(class)) {
                self.send(class, to);
                return true;
            }
            self.send(class, from);
        }
        false
    }

    /// These tails have their places: they are not moved any more.
    pub(super) fn settle(&mut self, class: usize, pool: usize, count: usize) {
        if let Some(at) = self.classes[class].iter().position(|other| *other == pool) {
            self.sent[class][at] -= count;
        }
    }

    /// Moves somebody out of a full pool along the shortest chain of moves that ends where there is
    /// room. One class stays where it is in that pool.
    fn make_room(&mut self, full: usize, stays: Option<usize>) -> bool {
        // For each pool reached: the class that would move into it, and from which place in its list.
        let mut came: Vec<Option<(usize, usize, usize)>> = vec![None; self.left.len()];
        let mut reached = vec![full];
        let mut next = 0;
        while let Some(pool) = reached.get(next).copied() {
            next += 1;
            for (class, from) in self.fits[pool].iter().copied() {
                let kept = pool == full && stays == Some(class);
                if kept || self.sent[class][from] == 0 {
                    continue;
                }
                for (to, other) in self.classes[class].iter().copied().enumerate() {
                    if other == full || came[other].is_some() {
                        continue;
                    }
                    came[other] = Some((class, from, to));
                    if self.left[other] > 0 {
                        self.walk_back(full, other, &came);
                        return true;
                    }
                    reached.push(other);
                }
            }
        }
        false
    }

    fn walk_back(&mut self, full: usize, end: usize, came: &[Option<(usize, usize, usize)>]) {
        let mut pool = end;
        while pool != full {
            let Some((class, from, to)) = came[pool] else {
                return;
            };
            self.take_back(class, from);
            self.send(class, to);
            pool = self.classes[class][from];
        }
    }

    fn send(&mut self, class: usize, at: usize) {
        self.sent[class][at] += 1;
        self.left[self.classes[class][at]] -= 1;
    }

    fn take_back(&mut self, class: usize, at: usize) {
        self.sent[class][at] -= 1;
        self.left[self.classes[class][at]] += 1;
    }
}
