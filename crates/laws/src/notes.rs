//! Short remarks that travel with a result, without allocation.

const CAPACITY: usize = 6;

/// Up to six fixed remarks, in the order they were made; further ones are dropped.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Notes {
    texts: [&'static str; CAPACITY],
    count: usize,
}

impl Notes {
    /// Adds a remark.
    pub fn add(&mut self, text: &'static str) {
        if self.count < CAPACITY {
            self.texts[self.count] = text;
            self.count += 1;
        }
    }

    /// Adds a remark when `condition` holds, and says whether it did.
    pub fn add_if(&mut self, condition: bool, text: &'static str) -> bool {
        if condition {
            self.add(text);
        }
        condition
    }

    /// The remarks in order.
    pub fn iter(&self) -> impl Iterator<Item = &'static str> + '_ {
        self.texts[..self.count].iter().copied()
    }

    /// True when nothing was remarked.
    pub fn is_empty(&self) -> bool {
        self.count == 0
    }
}
