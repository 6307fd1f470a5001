//! `reckon dropper`: drops per mL from drops of the acid itself on a balance.
//!
//! `{"drops": 20, "grams": 1.126, "weight_percent": 85, "kind": "phosphoric" or "nitric"}`; `kind` is phosphoric
//! if left out, 0 percent is water.

use serde::{Deserialize, Serialize};

use super::etch::acid_kind;
use super::{read, write};
use crate::speech::Speech;
use crate::trade::exact::Exact;
use crate::trade::measure::acid::Acid;
use crate::trade::measure::dropper::{Weighing, drops};
use crate::trade::remark::Remark;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Input {
    drops: Exact,
    grams: Exact,
    weight_percent: Exact,
    #[serde(default = "phosphoric")]
    kind: String,
}

fn phosphoric() -> String {
    "phosphoric".to_owned()
}

#[derive(Serialize)]
struct Answer {
    drops_per_ml: f64,
    ml_per_drop: Option<f64>,
}

/// Reads the input and reckons.
pub(super) fn answer(_speech: &Speech, input: &str) -> Result<String, Remark> {
    let input: Input = read("dropper", input)?;
    let acid = Acid::told("weight_percent", acid_kind("kind", &input.kind)?, input.weight_percent)?;
    let weighing = Weighing { drops: drops("drops", &input.drops)?, grams: input.grams, acid };
    let per_ml = weighing.drops_per_ml()?;
    let ml_per_drop = Exact::one().over(&per_ml).map(|ml| ml.to_f64());
    write("dropper", &Answer { drops_per_ml: per_ml.to_f64(), ml_per_drop })
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use super::*;

    fn said(input: &Value) -> Result<Value, String> {
        let speech = Speech::load().unwrap();
        answer(&speech, &input.to_string())
            .map(|text| serde_json::from_str(&text).unwrap())
            .map_err(|remark| speech.remark(&remark))
    }

    #[test]
    fn drops_and_millilitres_come_out() {
        let answer = said(&json!({"drops": 30, "grams": 1.689, "weight_percent": 85})).unwrap();
        assert_eq!(answer, json!({"drops_per_ml": 30.0, "ml_per_drop": 1.0 / 30.0}));
        let nitric = json!({"drops": 40, "grams": 1.4134, "weight_percent": 70, "kind": "nitric"});
        assert_eq!(said(&nitric).unwrap(), json!({"drops_per_ml": 40.0, "ml_per_drop": 0.025}));
    }

    #[test]
    fn bad_input_is_named_with_its_remedy() {
        for (input, sentence) in [
            (
                json!({"drops": 20, "grams": 1126, "weight_percent": 85}),
                "20 drops that weigh 1126 g make 0.03 drops per mL, and a dropper gives 1 to 1000: weigh in grams, \
                 the drops alone.",
            ),
            (
                json!({"drops": 0, "grams": 1, "weight_percent": 85}),
                "0 drops that weigh 1 g calibrate nothing: count at least one drop and give a weight above 0 g.",
            ),
            (
                json!({"drops": 20, "grams": 1, "weight_percent": 95}),
                "“weight_percent” is 95 percent, but the densities of phosphoric acid known here end at 90: look at \
                 the bottle again.",
            ),
            (
                json!({"drops": 20, "grams": 1, "weight_percent": 85, "kind": "citric"}),
                "“kind” is “citric”: write phosphoric or nitric.",
            ),
        ] {
            assert_eq!(said(&input).unwrap_err(), sentence);
        }
        assert!(said(&json!({"drops": 20, "grams": "heavy", "weight_percent": 85})).is_err());
    }
}
