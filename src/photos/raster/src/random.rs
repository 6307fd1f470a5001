//! Numbers that look random and are the same for the same seed everywhere: splitmix64 (G. L. Steele, D. Lea,
//! C. H. Flood: Fast splittable pseudorandom number generators, OOPSLA 2014), and noise of points made from it.

/// The generator. Its whole state is the seed.
#[derive(Debug, Clone)]
pub struct Random(u64);

impl Random {
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// A generator of its own for the part called `name`, so that one part does not disturb another.
    #[must_use]
    pub fn part(seed: u64, name: u64) -> Self {
        Self(mixed(seed ^ mixed(name)))
    }

    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(STEP);
        mixed(self.0)
    }

    /// From 0 up to, not including, 1.
    pub fn unit(&mut self) -> f32 {
        high_bits(self.bits())
    }

    pub fn between(&mut self, low: f32, high: f32) -> f32 {
        low + (high - low) * self.unit()
    }

    /// From 0 up to, not including, `count`; 0 when there is nothing to choose from.
    pub fn below(&mut self, count: u32) -> u32 {
        // The high half of the product keeps the choice even to one part in four thousand million.
        u32::try_from(((self.bits() >> 32) * u64::from(count)) >> 32).unwrap_or(0)
    }

    /// Around 0, mostly within `spread`: four even numbers added.
    pub fn around(&mut self, spread: f32) -> f32 {
        let sum = self.unit() + self.unit() + self.unit() + self.unit();
        (sum - 2.0) * spread
    }
}

const STEP: u64 = 0x9E37_79B9_7F4A_7C15;

/// The finisher of splitmix64: every bit of the outcome depends on every bit of `value`.
fn mixed(value: u64) -> u64 {
    let value = (value ^ (value >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    let value = (value ^ (value >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    value ^ (value >> 31)
}

/// The 24 high bits as a fraction: all of them fit an `f32`.
fn high_bits(bits: u64) -> f32 {
    (bits >> 40) as u32 as f32 / 16_777_216.0
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The first outcomes for seed 1234567 as printed with the reference C code (S. Vigna, splitmix64.c, public
    /// domain; the values are the widely used test vector, here from memory).
    #[test]
    fn the_reference_sequence() {
        let mut random = Random::new(1_234_567);
        let first: [u64; 5] = std::array::from_fn(|_| random.bits());
        assert_eq!(
            first,
            [
                6_457_827_717_110_365_317,
                3_203_168_211_198_807_973,
                9_817_491_932_198_370_423,
                4_593_380_528_125_082_431,
                16_408_922_859_458_223_821
            ]
        );
    }

    #[test]
    fn ranges_are_kept_and_filled() {
        let mut random = Random::new(9);
        let mut seen = [0_u32; 5];
        for _ in 0..1000 {
            assert!((0.0..1.0).contains(&random.unit()));
            assert!((-3.0..=3.0).contains(&random.around(1.5)));
            seen[random.below(5) as usize] += 1;
        }
        assert!(seen.iter().all(|&count| (140..260).contains(&count)), "{seen:?}");
        assert_eq!(random.below(0), 0);
    }
}
