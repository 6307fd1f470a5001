//! A phone's clock against ours.

use crate::clock::{DAY_MS, Instant};

/// What a phone says about when something was.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ByPhone {
    /// By the phone's clock, in milliseconds UTC.
    pub device_ms: i64,
    /// Ours minus the phone's, measured at the last contact before it was tapped; None: there was none.
    pub offset_ms: Option<i64>,
    /// The same, measured when it was sent.
    pub sent_offset_ms: Option<i64>,
    /// How long before the sending it was.
    pub elapsed_ms: i64,
    /// That was measured by a clock that nobody sets.
    pub steady: bool,
}

/// Offsets of one clock that differ by less are the same: an answer takes its time on a weak signal.
const SAME_OFFSET_MS: i64 = 60_000;

/// When it was, by our clock.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PutRight {
    pub at: Instant,
    /// How far ahead of ours the phone's clock was.
    pub off_ms: i64,
    /// Neither clock could be believed as it stood: the time is reckoned back from when it came in.
    pub doubtful: bool,
}

impl PutRight {
    /// The later of two taps on one phone. Their order is known, whatever its clock was at each: where putting them right
    /// turns it round, this one takes the moment of the earlier, and is marked.
    #[must_use]
    pub fn not_before(self, earlier: Instant) -> Self {
        if self.at < earlier { Self { at: earlier, doubtful: true, ..self } } else { self }
    }
}

impl ByPhone {
    /// The phone's time with an offset added; where no offset can be believed, the time is reckoned back from when it
    /// came in, and marked. Where somebody set the phone's clock between the last contact and the sending, a steady
    /// count of the time since says which of the two offsets held; without one the earlier is taken, and marked.
    #[must_use]
    pub fn put_right(self, received: Instant) -> PutRight {
        let reckoned = received.plus_ms(-self.elapsed_ms.max(0));
        let with = |offset: Option<i64>| self.with_offset(offset, received);
        let (before, after) = (with(self.offset_ms), with(self.sent_offset_ms));
        let near = |at: &Instant| (at.millis() - reckoned.millis()).abs() <= SAME_OFFSET_MS;
        let (at, doubtful) = match (before, after) {
            _ if !self.was_set() => match before.or(after) {
                Some(at) => (at, false),
                None => (reckoned, true),
            },
            _ if self.steady => match before.filter(near).or(after.filter(near)) {
                Some(at) => (at, false),
                None => (reckoned, true),
            },
            (Some(at), _) | (None, Some(at)) => (at, true),
            (None, None) => (reckoned, true),
        };
        PutRight { at, off_ms: self.device_ms.saturating_sub(at.millis()), doubtful }
    }

    /// The two offsets are not of one clock.
    fn was_set(self) -> bool {
        let both = self.offset_ms.zip(self.sent_offset_ms);
        both.is_some_and(|(one, other)| one.saturating_sub(other).saturating_abs() > SAME_OFFSET_MS)
    }

    /// None where the offset is larger than a day or leads past `received`, by more than an offset can be wrong: what was
    /// sent at once would else come before it was tapped.
    fn with_offset(self, offset: Option<i64>, received: Instant) -> Option<Instant> {
        let offset = offset.filter(|offset| offset.saturating_abs() <= DAY_MS)?;
        let at = self.device_ms.checked_add(offset)?;
        let believed = 0 < at && at <= received.millis().saturating_add(SAME_OFFSET_MS);
        believed.then(|| Instant::from_millis(at).min(received))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOW: i64 = 1_790_000_000_000;
    const MINUTE: i64 = 60_000;

    fn told(device_ms: i64, offset_ms: Option<i64>, elapsed_ms: i64) -> PutRight {
        let told = ByPhone { device_ms, offset_ms, sent_offset_ms: None, elapsed_ms, steady: true };
        told.put_right(Instant::from_millis(NOW))
    }

    /// Tapped ten minutes ago; both offsets are known.
    fn set_between(device_ms: i64, before: i64, after: i64, steady: bool) -> PutRight {
        let (offset_ms, sent_offset_ms) = (Some(before), Some(after));
        let told = ByPhone { device_ms, offset_ms, sent_offset_ms, elapsed_ms: 10 * MINUTE, steady };
        told.put_right(Instant::from_millis(NOW))
    }

    #[test]
    fn a_clock_put_right_before_the_sending_is_known_by_the_steady_count() {
        // It was forty minutes ahead when tapped, and is right when it sends.
        let right = set_between(NOW + 30 * MINUTE, -40 * MINUTE, 0, true);
        assert_eq!((right.at.millis(), right.doubtful), (NOW - 10 * MINUTE, false));
        // It was put right after the last contact, then tapped.
        let right = set_between(NOW - 10 * MINUTE, -40 * MINUTE, 0, true);
        assert_eq!((right.at.millis(), right.doubtful), (NOW - 10 * MINUTE, false));
        // Set twice: neither offset held.
        let right = set_between(NOW - 25 * MINUTE, -40 * MINUTE, 0, true);
        assert_eq!((right.at.millis(), right.doubtful), (NOW - 10 * MINUTE, true));
    }

    #[test]
    fn without_a_steady_count_a_clock_that_was_set_is_always_marked() {
        let right = set_between(NOW + 30 * MINUTE, -40 * MINUTE, 0, false);
        assert_eq!((right.at.millis(), right.doubtful), (NOW - 10 * MINUTE, true));
        assert!(set_between(NOW - 10 * MINUTE, -40 * MINUTE, 0, false).doubtful);
        assert!(!set_between(NOW - 10 * MINUTE, 500, -900, false).doubtful, "an answer takes its time");
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
    fn the_order_of_two_taps_survives_a_clock_that_was_set_between_them() {
        let began = told(NOW - 6 * MINUTE, Some(100), 6 * MINUTE);
        let ended = set_between(NOW + 4 * MINUTE, 0, -10 * MINUTE - 400, false);
        assert!(ended.at < began.at);
        let in_order = ended.not_before(began.at);
        assert_eq!((in_order.at, in_order.doubtful, in_order.off_ms), (began.at, true, ended.off_ms));
        assert_eq!(began.not_before(ended.at), began);
    }

    #[test]
    fn an_offset_that_is_a_little_wrong_is_believed() {
        let right = told(NOW + 40 * MINUTE + 700, Some(-40 * MINUTE), 0);
        assert_eq!((right.at.millis(), right.doubtful), (NOW, false), "no later than it came in");
        assert!(
            told(NOW + 42 * MINUTE, Some(-40 * MINUTE), 0).doubtful,
            "two minutes are no measuring error"
        );
    }

    #[test]
    fn nothing_lies_ahead_of_now() {
        assert_eq!(told(NOW + 5, None, -5).at.millis(), NOW);
    }
}
