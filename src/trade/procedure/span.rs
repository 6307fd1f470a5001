//! Lengths of time as people type them: the other way round from `spelled_minutes`.

/// Minutes from `1 d 6 h`, `12 h`, `90 min` or a number alone, which is minutes. Letters may touch their number; None
/// for anything else and for what is more than fits.
#[must_use]
pub fn typed_minutes(typed: &str) -> Option<i64> {
    let text = typed.replace(['\u{a0}', '\u{202f}'], " ").to_lowercase();
    let mut rest = text.trim();
    if let Ok(minutes) = rest.parse::<i64>() {
        return Some(minutes);
    }
    let (mut total, mut largest) = (0_i64, i64::MAX);
    while !rest.is_empty() {
        let end = rest.find(|letter: char| !letter.is_ascii_digit())?;
        let (number, after) = rest.split_at_checked(end)?;
        let after = after.trim_start();
        let end = after.find(|letter: char| !letter.is_ascii_lowercase()).unwrap_or(after.len());
        let (unit, next) = after.split_at_checked(end)?;
        let minutes = match unit {
            "d" | "day" | "days" => 1440,
            "h" | "hour" | "hours" => 60,
            "m" | "min" | "minute" | "minutes" => 1,
            _ => return None,
        };
        // Each unit once, the larger first: “6 h 1 d” is a slip.
        if minutes >= largest {
            return None;
        }
        largest = minutes;
        total = total.checked_add(number.parse::<i64>().ok()?.checked_mul(minutes)?)?;
        rest = next.trim_start();
    }
    (largest != i64::MAX).then_some(total)
}

#[cfg(test)]
mod tests {
    use super::typed_minutes;
    use crate::trade::procedure::step::spelled_minutes;

    #[test]
    fn what_is_spelled_is_read_again() {
        for minutes in [0, 1, 59, 60, 61, 720, 1440, 1441, 2880, 4320, 10_080, 1_054_080] {
            assert_eq!(typed_minutes(&spelled_minutes(minutes)), Some(minutes), "{minutes}");
        }
    }

    #[test]
    fn people_type_it_in_several_ways_and_slips_are_noticed() {
        for (typed, minutes) in
            [("45", 45), (" 12h ", 720), ("1 d 6 h", 1800), ("2 days", 2880), ("1H 30", -1), ("90 Min", 90)]
        {
            assert_eq!(typed_minutes(typed), (minutes >= 0).then_some(minutes), "{typed}");
        }
        for typed in [
            "",
            "soon",
            "h",
            "6 h 1 d",
            "1 h 2 h",
            "1.5 h",
            "3 weeks",
            "99999999999999999999 d",
            "9223372036854775807 d",
        ] {
            assert_eq!(typed_minutes(typed), None, "{typed}");
        }
    }
}
