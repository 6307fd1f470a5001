//! Exact numbers out of JSON.

use std::fmt;

use num_rational::BigRational;
use serde::de::{Deserialize, Deserializer, Error, Visitor};

use super::Exact;

impl<'de> Deserialize<'de> for Exact {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_any(Number)
    }
}

/// Takes JSON numbers; what `{}` writes for an f64 is its shortest decimal text, without an exponent.
struct Number;

impl Visitor<'_> for Number {
    type Value = Exact;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a number")
    }

    fn visit_i64<E: Error>(self, number: i64) -> Result<Exact, E> {
        Ok(Exact::whole(number))
    }

    fn visit_u64<E: Error>(self, number: u64) -> Result<Exact, E> {
        Ok(BigRational::from_integer(number.into()).into())
    }

    fn visit_f64<E: Error>(self, number: f64) -> Result<Exact, E> {
        Exact::decimal(&number.to_string())
            .ok_or_else(|| E::custom(format!("{number} is not a finite number")))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn exact(text: &str) -> Exact {
        Exact::decimal(text).unwrap()
    }

    #[test]
    fn json_numbers_become_the_decimals_they_spell() {
        for (json, decimal) in
            [("0.1", "0.1"), ("88", "88"), ("1e-7", "0.0000001"), ("-2.50", "-2.5"), ("1E2", "100")]
        {
            assert_eq!(serde_json::from_str::<Exact>(json).unwrap(), exact(decimal), "{json}");
        }
        // The first three survive only with serde_json's `float_roundtrip`: by default it misreads the last digit.
        for text in ["90.42225290942383", "42.215889504792884", "19.243053591130522", "0.30000000000000004"] {
            assert_eq!(serde_json::from_str::<Exact>(text).unwrap(), exact(text), "{text}");
        }
        assert!(serde_json::from_str::<Exact>("\"88\"").is_err());
        assert!(serde_json::from_str::<Exact>("null").is_err());
    }
}
