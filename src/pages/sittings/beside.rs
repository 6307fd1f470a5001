//! What stands beside a step's instructions at the table: where the eyewash is, how long the sign-offs hold, pictures of how
//! it should look and how wrong looks, and whether the instructions may be folded away.

use crate::ids::ProcedureId;
use crate::pages::dates;
use crate::pages::entry::InClass;
use crate::pages::procedures::reading_path;
use crate::pages::procedures::said::{LookedAt, Voice};
use crate::store::plates::folder::Folder;
use crate::trade::procedure::{Grade, SignOff, Step};
use crate::trade::remark::Remark;
use crate::trade::spelled::Spelled;

/// The school's words for its topics.
#[derive(Debug)]
pub struct Words {
    /// Key and title of the school's topics.
    pub topics: Vec<(String, String)>,
}

/// Lines before the step: the eyewash where something can hurt, and each sign-off it needs with its last day.
#[must_use]
pub fn lines(ask: &InClass, words: &Words, folder: &Folder, step: &Step) -> Vec<String> {
    let speech = &ask.house.speech;
    let eyewash = (!step.hazards.is_empty() && !ask.membership.eyewash.is_empty()).then(|| {
        let remark = Remark::new("studio-caution-eyewash");
        speech.remark(&remark.with("eyewash", ask.membership.eyewash.as_str()))
    });
    eyewash
        .into_iter()
        .chain(step.sign_offs.iter().filter_map(|need| held(ask, words, folder, need)))
        .collect()
}

fn held(ask: &InClass, words: &Words, folder: &Folder, need: &SignOff) -> Option<String> {
    let speech = &ask.house.speech;
    let now = ask.now().utc();
    let covering = folder.sign_offs.iter().filter(|held| held.covers(need, now, folder.zone).is_ok());
    // Of several that cover it the one that lasts longest counts; without a last day it lasts.
    let best = covering.max_by_key(|held| (held.until.is_none(), held.until, held.grade))?;
    let title = words.topics.iter().find(|(key, _)| *key == need.topic).map(|(_, title)| title.as_str());
    let remark = Remark::new(if best.until.is_some() { "table-held-until" } else { "table-held" })
        .with("topic", title.unwrap_or(&need.topic))
        .with("grade", speech.plain(&format!("safety-grade-{}", best.grade.word())));
    let remark = match best.until {
        Some(until) => remark.with("until", dates::day_with_year(until)),
        None => remark,
    };
    Some(speech.remark(&remark))
}

/// Whoever may work alone in everything the step asks for has read its instructions often enough: they may be folded.
/// Cautions and the way to the splash page never are.
#[must_use]
pub fn may_fold(ask: &InClass, folder: &Folder, step: &Step) -> bool {
    let now = ask.now().utc();
    let alone = |need: &SignOff| {
        let alone = SignOff { topic: need.topic.clone(), grade: Grade::Alone };
        folder.sign_offs.iter().any(|held| held.covers(&alone, now, folder.zone).is_ok())
    };
    !step.sign_offs.is_empty() && step.sign_offs.iter().all(alone)
}

/// The pictures of a step.
#[must_use]
pub fn pictures(
    ask: &InClass,
    words: &Words,
    folder: &Folder,
    of: ProcedureId,
    step: &Step,
) -> Vec<LookedAt> {
    let pictures = format!("{}/pictures", reading_path(ask.class(), of));
    let voice = Voice {
        speech: &ask.house.speech,
        procedure: &folder.procedure,
        topics: &words.topics,
        pictures: &pictures,
        writing: None,
    };
    voice.pictures(step)
}
