//! A phone's clock against ours.

use crate::clock::{DAY_MS, Instant};

/// What a phone says about when something was.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ByPhone {
    /// By the phone's clock, in milliseconds UTC.
    pub device_ms: i64,
    /// Ours minus the phone's, measured at the last contact; None: there was none.
    pub offset_ms: Option<i64>,
    /// How long before the sending it was, by a clock that nobody sets.
    pub elapsed_ms: i64,
}

/// When it was, by our clock.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PutRight {
    pub at: Instant,
    /// How far ahead of ours the phone's clock was.
    pub off_ms: i64,
    /// Neither clock could be believed as it stood: the time is reckoned back from when it came in.
    pub doubtful: bool,
}

impl ByPhone {
    /// The phone's time with the offset added; where the offset is missing, larger than a day, or leads past
    /// `received`, the time is reckoned back from when it came in, and marked.
    #[must_use]
    pub fn put_right(self, received: Instant) -> PutRight {
        let by_offset = self.offset_ms.filter(|offset| offset.abs() <= DAY_MS);
        let corrected = by_offset
            .and_then(|offset| self.device_ms.checked_add(offset))
            .filter(|at| *at <= received.millis() && *at > 0)
            .map(Instant::from_millis);
        let reckoned = received.plus_ms(-self.elapsed_ms.max(0));
        let at = corrected.unwrap_or(reckoned);
        PutRight { at, off_ms: self.device_ms.saturating_sub(at.millis()), doubtful: corrected.is_none() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOW: i64 = 1_790_000_000_000;
    const MINUTE: i64 = 60_000;

    fn told(device_ms: i64, offset_ms: Option<i64>, elapsed_ms: i64) -> PutRight {
        ByPhone { device_ms, offset_ms, elapsed_ms }.put_right(Instant::from_millis(NOW))
    }

    #[test]
    fn a_clock_forty_minutes_wrong_is_put_right_by_the_last_contact() {
        let right = told(NOW + 30 * MINUTE, Some(-40 * MINUTE), 10 * MINUTE);
        assert_eq!(right.at.millis(), NOW - 10 * MINUTE);
        assert_eq!((right.off_ms, right.doubtful), (40 * MINUTE, false));
    }

    #[test]
    fn without_a_contact_or_with_a_wild_one_time_is_reckoned_back() {
        for (device, offset) in [
            (NOW + 30 * MINUTE, None),
            (NOW + 30 * MINUTE, Some(0)),
            (NOW - 10 * MINUTE, Some(2 * DAY_MS)),
            (i64::MAX, Some(5)),
        ] {
            let right = told(device, offset, 10 * MINUTE);
            assert_eq!(right.at.millis(), NOW - 10 * MINUTE, "{device} {offset:?}");
            assert!(right.doubtful);
        }
    }

    #[test]
    fn nothing_lies_ahead_of_now() {
        assert_eq!(told(NOW + 5, None, -5).at.millis(), NOW);
    }
}
