//! Rests that cannot be kept.

use super::{LONGEST_REST, On, name_of};
use crate::trade::procedure::Procedure;
use crate::trade::procedure::step::{Maximum, Step, spelled_minutes};
use crate::trade::remark::Remark;

/// A shortest rest of this many minutes always ends on a later day than it began.
const DAY: i64 = 24 * 60;

pub(super) fn check(procedure: &Procedure, remarks: &mut Vec<Remark>) {
    for (place, step) in procedure.all().enumerate() {
        let mut on = On { name: name_of(step, place), step, remarks };
        let rest = &step.rest;
        on.minutes("rest-minimum", rest.minimum, LONGEST_REST);
        on.minutes("rest-advised", rest.advised, LONGEST_REST);
        if rest.advised != 0 && rest.advised < rest.minimum {
            on.complain(two("procedure-check-rest-advised", rest.advised, rest.minimum));
        }
        if !rest.is_none() && step.rest_since().is_empty() && rest.maximum != Some(Maximum::UnderGum) {
            on.complain(Remark::new("procedure-check-rest-from-nothing"));
        }
        maximum(procedure, step, &mut on);
    }
}

fn maximum(procedure: &Procedure, step: &Step, on: &mut On<'_>) {
    let longest_asked = step.rest.minimum.max(step.rest.advised);
    match step.rest.maximum {
        Some(Maximum::Minutes(minutes)) => {
            on.minutes("rest-maximum", minutes, LONGEST_REST);
            if minutes < longest_asked {
                on.complain(two("procedure-check-rest-maximum", minutes, longest_asked));
            }
        }
        Some(Maximum::SameDay { .. }) if longest_asked >= DAY => {
            let value = spelled_minutes(longest_asked);
            on.complain(Remark::new("procedure-check-rest-same-day").with("value", value));
        }
        Some(Maximum::UnderGum) if !procedure.all().any(|other| other.gums && other.key != step.key) => {
            on.complain(Remark::new("procedure-check-rest-no-gum"));
        }
        Some(Maximum::UnderGum) => {
            // The advised rest may be longer: a class may have another limit, and a plan takes what it can.
            let shortest = step.rest.minimum;
            if let Some(limit) = procedure.gum_limit_minutes.filter(|limit| (1..shortest).contains(limit)) {
                on.complain(two("procedure-check-rest-gum-limit", shortest, limit));
            }
        }
        Some(_) | None => {}
    }
}

fn two(key: &'static str, value: i64, other: i64) -> Remark {
    Remark::new(key).with("value", spelled_minutes(value)).with("other", spelled_minutes(other))
}
