//! What is kept from one question to the next, bounded by the bytes it takes.

use std::sync::{Mutex, MutexGuard};

/// Values by key. Of those that were asked for longest ago so many go that the rest take no more than the limit; the one
/// asked for last stays, whatever it takes.
pub struct Cache<K, V> {
    most_bytes: usize,
    /// Asked for last at the end.
    kept: Mutex<Vec<Entry<K, V>>>,
}

struct Entry<K, V> {
    key: K,
    value: V,
    bytes: usize,
}

impl<K: PartialEq, V: Clone> Cache<K, V> {
    /// An empty one.
    pub const fn new(most_bytes: usize) -> Self {
        Self {
            most_bytes,
            kept: Mutex::new(Vec::new()),
        }
    }

    /// What is kept under `key`.
    pub fn get(&self, key: &K) -> Option<V> {
        let mut kept = self.lock();
        let at = kept.iter().position(|entry| entry.key == *key)?;
        let entry = kept.remove(at);
        let value = entry.value.clone();
        kept.push(entry);
        Some(value)
    }

    /// What is kept under `key`, else `new`, which takes so many bytes.
    pub fn get_or(&self, key: K, bytes: usize, new: impl FnOnce() -> V) -> V {
        let mut kept = self.lock();
        let at = kept.iter().position(|entry| entry.key == key);
        let entry = match at {
            Some(at) => kept.remove(at),
            None => Entry {
                key,
                value: new(),
                bytes,
            },
        };
        let value = entry.value.clone();
        kept.push(entry);
        self.make_room(&mut kept);
        value
    }

    /// Says that what is kept under `key` takes so many bytes by now.
    pub fn weigh(&self, key: &K, bytes: usize) {
        let mut kept = self.lock();
        if let Some(entry) = kept.iter_mut().find(|entry| entry.key == *key) {
            entry.bytes = bytes;
        }
        self.make_room(&mut kept);
    }

    /// All that is kept.
    pub fn all(&self) -> Vec<V> {
        let kept = self.lock();
        kept.iter().map(|entry| entry.value.clone()).collect()
    }

    /// That all of it takes.
    pub fn bytes(&self) -> usize {
        self.lock().iter().map(|entry| entry.bytes).sum()
    }

    fn make_room(&self, kept: &mut Vec<Entry<K, V>>) {
        let mut bytes = 0usize;
        let newest = kept.iter().rev().take_while(|entry| {
            bytes = bytes.saturating_add(entry.bytes);
            bytes <= self.most_bytes
        });
        let over = kept.len() - newest.count().max(1).min(kept.len());
        kept.drain(..over);
    }

    fn lock(&self) -> MutexGuard<'_, Vec<Entry<K, V>>> {
        self.kept.lock().unwrap_or_else(|e| e.into_inner())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn keys(cache: &Cache<u32, u32>) -> Vec<u32> {
        cache.all()
    }

    #[test]
    fn those_asked_for_longest_ago_go_first() {
        let cache = Cache::new(100);
        for key in 1..=3 {
            assert_eq!(cache.get_or(key, 30, || key), key);
        }
        assert_eq!(cache.get(&1), Some(1));
        cache.get_or(4, 40, || 4);
        assert_eq!((keys(&cache), cache.bytes()), (vec![3, 1, 4], 100));
        assert_eq!(cache.get(&2), None);
        assert_eq!(cache.get_or(3, 30, || unreachable!()), 3);
    }

    #[test]
    fn what_grew_makes_room_and_the_last_stays() {
        let cache = Cache::new(100);
        for key in 1..=3 {
            cache.get_or(key, 30, || key);
        }
        cache.weigh(&3, 60);
        assert_eq!((keys(&cache), cache.bytes()), (vec![2, 3], 90));
        cache.weigh(&3, 500);
        assert_eq!(keys(&cache), vec![3], "larger than all, and asked for last");
        cache.weigh(&9, 1);
        cache.get_or(4, 10, || 4);
        assert_eq!(keys(&cache), vec![4]);
        assert!(Cache::<u32, u32>::new(1).all().is_empty());
    }
}
