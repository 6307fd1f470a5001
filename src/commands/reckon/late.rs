//! `reckon late`: days late from a local due time, a zone and the moment of handing in.
//!
//! `{"due_local":"2026-09-18T17:00","zone":"America/New_York","grace_minutes":15,
//! "received":"2026-09-21T09:00:00-04:00","uncounted":["2026-09-19"],"personal_due_local":null}`; all but the
//! due time, zone and moment may be left out.

use serde::{Deserialize, Serialize};

use super::{read, write};
use crate::speech::Speech;
use crate::trade::civil;
use crate::trade::lateness::Deadline;
use crate::trade::remark::Remark;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Input {
    due_local: String,
    zone: String,
    #[serde(default)]
    grace_minutes: u32,
    received: String,
    #[serde(default)]
    uncounted: Vec<String>,
    #[serde(default)]
    personal_due_local: Option<String>,
}

#[derive(Serialize)]
struct Answer {
    days_late: u32,
    charged_on: Vec<String>,
}

/// Reads the input and counts.
pub(super) fn answer(_speech: &Speech, input: &str) -> Result<String, Remark> {
    let input: Input = read("late", input)?;
    let personal = input.personal_due_local.as_deref();
    let deadline = Deadline {
        due: civil::local("due_local", &input.due_local)?,
        personal_due: personal.map(|text| civil::local("personal_due_local", text)).transpose()?,
        zone: civil::zone("zone", &input.zone)?,
        grace_minutes: input.grace_minutes,
        uncounted: input
            .uncounted
            .iter()
            .map(|text| civil::date("uncounted", text))
            .collect::<Result<_, _>>()?,
    };
    let late = deadline.late(civil::rfc3339("received", &input.received)?);
    let charged_on = late.charged_on.iter().map(ToString::to_string).collect();
    write("late", &Answer { days_late: late.days, charged_on })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(changes: serde_json::Value) -> Result<String, String> {
        let mut input = serde_json::json!({
            "due_local": "2026-09-18T17:00", "zone": "America/New_York", "grace_minutes": 15,
            "received": "2026-09-21T09:00:00-04:00", "uncounted": ["2026-09-19"], "personal_due_local": null});
        for (field, value) in changes.as_object().unwrap() {
            input[field] = value.clone();
        }
        let speech = Speech::load().unwrap();
        answer(&speech, &input.to_string()).map_err(|remark| speech.remark(&remark))
    }

    #[test]
    fn days_and_their_dates_come_out() {
        let answer: serde_json::Value = serde_json::from_str(&said(serde_json::json!({})).unwrap()).unwrap();
        assert_eq!(answer, serde_json::json!({"days_late": 2, "charged_on": ["2026-09-18", "2026-09-20"]}));
    }

    #[test]
    fn bad_input_is_named_with_its_remedy() {
        for (changes, sentence) in [
            (
                serde_json::json!({"zone": "New York"}),
                "“zone” is “New York”, which is no IANA time zone: write a name such as America/New_York.",
            ),
            (
                serde_json::json!({"due_local": "2026-09-31T17:00"}),
                "“due_local” is “2026-09-31T17:00”, which is no local date and time: write it such as 2026-09-14T17:00.",
            ),
            (
                serde_json::json!({"uncounted": ["Saturday"]}),
                "“uncounted” is “Saturday”, which is no date: write year, month and day, such as 2026-09-14.",
            ),
            (
                serde_json::json!({"received": "2026-09-21T09:00:00"}),
                "“received” is “2026-09-21T09:00:00”, which is no moment with an offset: write it such as \
                 2026-09-14T17:00:00-04:00.",
            ),
        ] {
            assert_eq!(said(changes).unwrap_err(), sentence);
        }
        assert!(said(serde_json::json!({"grace_minutes": -5})).unwrap_err().contains("-5"));
        assert!(
            said(serde_json::json!({"personal_due_local": "soon"}))
                .unwrap_err()
                .contains("personal_due_local")
        );
    }
}
