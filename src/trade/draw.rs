//! Drawing lots that anybody can draw again: from a number, which of so many things are chosen.
//!
//! The numbers come from SplitMix64 (Steele, Lea, Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014);
//! the order from shuffling by Fisher and Yates, as Knuth tells it (The Art of Computer Programming 2, algorithm P).

/// Which of `of` things are chosen, `count` of them, in rising order.
#[must_use]
pub fn lots(seed: u64, count: usize, of: usize) -> Vec<usize> {
    let mut places: Vec<usize> = (0..of).collect();
    let mut state = seed;
    for last in (1..of).rev() {
        let bound = u64::try_from(last + 1).unwrap_or(u64::MAX);
        let other = usize::try_from(next(&mut state) % bound).unwrap_or(0);
        places.swap(last, other);
    }
    places.truncate(count);
    places.sort_unstable();
    places
}

fn next(state: &mut u64) -> u64 {
    *state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let mut z = *state;
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The first numbers from seed 1234567, as the reference program in C prints them (from memory; the same list is
    /// given at rosettacode.org, "Pseudo-random numbers/Splitmix64").
    #[test]
    fn the_numbers_are_those_of_the_reference() {
        let mut state = 1_234_567;
        let first: Vec<u64> = (0..3).map(|_| next(&mut state)).collect();
        assert_eq!(first, [6_457_827_717_110_365_317, 3_203_168_211_198_807_973, 9_817_491_932_198_370_423]);
    }

    #[test]
    fn the_same_number_draws_the_same_lots() {
        assert_eq!(lots(7, 5, 17), lots(7, 5, 17));
        assert_ne!(lots(7, 5, 17), lots(8, 5, 17));
        for (count, of) in [(0, 5), (5, 5), (9, 5), (1, 0)] {
            let drawn = lots(3, count, of);
            assert_eq!(drawn.len(), count.min(of));
            assert!(drawn.windows(2).all(|pair| pair[0] < pair[1]) && drawn.iter().all(|place| *place < of));
        }
    }
}
