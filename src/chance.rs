//! Where the parts of an id or a salt that are not time come from: the machine, or, while the demo school is furnished,
//! a seed, so that the same seed gives the same ids and so the same exports.

use std::sync::{Arc, Mutex, PoisonError};

use sha2::{Digest, Sha256};

use crate::secrets;
use crate::trouble::Trouble;

/// A source of 16-byte parts that many hands may share.
#[derive(Debug, Clone, Default)]
pub struct Chance(Arc<Mutex<Option<Seeded>>>);

/// A seed and how many parts it has given.
#[derive(Debug, Clone, Copy)]
struct Seeded {
    seed: u64,
    given: u64,
}

impl Chance {
    /// From now on parts follow from `seed`. For invented data only: whoever knows the seed knows every id.
    pub fn follow(&self, seed: u64) {
        *self.0.lock().unwrap_or_else(PoisonError::into_inner) = Some(Seeded { seed, given: 0 });
    }

    /// From now on the machine's randomness again.
    pub fn stop_following(&self) {
        *self.0.lock().unwrap_or_else(PoisonError::into_inner) = None;
    }

    /// The next part.
    ///
    /// # Errors
    /// The machine gives no randomness.
    pub fn part(&self) -> Result<[u8; 16], Trouble> {
        let mut source = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let Some(seeded) = source.as_mut() else { return secrets::random::<16>() };
        seeded.given += 1;
        let digest = Sha256::new()
            .chain_update(b"tympan part of an id")
            .chain_update(seeded.seed.to_be_bytes())
            .chain_update(seeded.given.to_be_bytes())
            .finalize();
        let mut part = [0; 16];
        part.iter_mut().zip(digest).for_each(|(to, from)| *to = from);
        Ok(part)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_seed_gives_the_same_parts_again_and_another_gives_others() {
        let parts = |seed| {
            let chance = Chance::default();
            chance.follow(seed);
            [chance.part().unwrap(), chance.part().unwrap(), chance.part().unwrap()]
        };
        assert_eq!(parts(7), parts(7));
        assert_ne!(parts(7), parts(8));
        assert_ne!(parts(7)[0], parts(7)[1]);
    }

    #[test]
    fn without_a_seed_no_two_parts_agree() {
        let chance = Chance::default();
        assert_ne!(chance.part().unwrap(), chance.part().unwrap());
        chance.follow(1);
        let followed = chance.part().unwrap();
        chance.stop_following();
        assert_ne!(chance.part().unwrap(), followed);
    }
}
