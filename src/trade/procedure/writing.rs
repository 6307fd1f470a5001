//! Writing a procedure: steps added, moved, replaced and taken out. What comes of it need not be sound; `check` says.

use super::step::{Instructions, Minutes, Place, Records, Rest, Step, Surface};
use super::{GUMMED, Procedure};

impl Step {
    /// A step of which nothing is said but its name: done anywhere, in no time.
    #[must_use]
    pub fn bare(key: impl Into<String>, title: impl Into<String>) -> Self {
        Self {
            key: key.into(),
            title: title.into(),
            instructions: Instructions::default(),
            hazards: vec![],
            pictures: vec![],
            recording: None,
            source: String::new(),
            minutes: Minutes::default(),
            may_split: false,
            beside_others: false,
            place: Place::Anywhere,
            after: vec![],
            rest: Rest::default(),
            sign_offs: vec![],
            records: Records::Nothing,
            leaves: None,
            counts_as: vec![],
            needs: vec![],
            then_only: None,
            optional: false,
            never_waits: false,
            gums: false,
            takes_gum_off: false,
            shows_etch: false,
            numbers_edition: false,
        }
    }
}

impl Procedure {
    /// A procedure without a step.
    #[must_use]
    pub fn blank(name: impl Into<String>, surface: Surface) -> Self {
        Self {
            name: name.into(),
            surface,
            about: String::new(),
            gum_limit_minutes: None,
            steps: vec![],
            any_time: vec![],
        }
    }

    /// A key for a new step, made from its title: `First etch` becomes `first-etch`, a second one `first-etch-2`.
    #[must_use]
    pub fn key_for(&self, title: &str) -> String {
        let made = word_from(title);
        let made = if made.is_empty() || made == GUMMED { "step".to_owned() } else { made };
        let taken = |key: &str| self.all().any(|step| step.answers_to(key));
        if !taken(&made) {
            return made;
        }
        let mut number = 2_u32;
        loop {
            let key = format!("{made}-{number}");
            if !taken(&key) {
                return key;
            }
            number = number.saturating_add(1);
        }
    }

    /// The step of that key, to be changed.
    #[must_use]
    pub fn find_mut(&mut self, key: &str) -> Option<&mut Step> {
        self.steps.iter_mut().chain(&mut self.any_time).find(|step| step.key == key)
    }

    /// Whether the step stands on the way; false for an any-time step and for one that is not there.
    #[must_use]
    pub fn is_on_the_way(&self, key: &str) -> bool {
        self.steps.iter().any(|step| step.key == key)
    }

    /// Adds a step to the way behind the step `after`, or first. It waits for that step, and the next one in reading
    /// order, where it waited for that step, waits for the new one. Gives back its key.
    pub fn add_to_way(&mut self, title: &str, after: Option<&str>) -> String {
        let key = self.key_for(title);
        let mut step = Step::bare(key.clone(), title);
        let before = after.and_then(|after| self.steps.iter().position(|step| step.key == after));
        let place = before.map_or(0, |place| place + 1);
        if let (Some(after), Some(_)) = (after, before) {
            step.after = vec![after.to_owned()];
            if let Some(next) = self.steps.get_mut(place) {
                for waited in next.after.iter_mut().filter(|waited| *waited == after) {
                    waited.clone_from(&key);
                }
            }
        }
        self.steps.insert(place, step);
        key
    }

    /// Adds a step that may be done any time. Gives back its key.
    pub fn add_any_time(&mut self, title: &str) -> String {
        let key = self.key_for(title);
        self.any_time.push(Step::bare(key.clone(), title));
        key
    }

    /// Moves a step one place up or down in reading order, within its list; false where it cannot go further. What
    /// waits for what stays as it is.
    pub fn shift(&mut self, key: &str, up: bool) -> bool {
        for list in [&mut self.steps, &mut self.any_time] {
            let Some(place) = list.iter().position(|step| step.key == key) else { continue };
            let to = if up { place.checked_sub(1) } else { Some(place + 1).filter(|to| *to < list.len()) };
            if let Some(to) = to {
                list.swap(place, to);
            }
            return to.is_some();
        }
        false
    }

    /// Takes a step out; what waited for it waits for what it waited for. Rules that name it stay, for the writer to
    /// decide. False where there is none of that key.
    pub fn take_out(&mut self, key: &str) -> bool {
        let Some(gone) = self.find(key).cloned() else { return false };
        self.steps.retain(|step| step.key != key);
        self.any_time.retain(|step| step.key != key);
        for step in self.steps.iter_mut().chain(&mut self.any_time) {
            let Some(place) = step.after.iter().position(|before| before == key) else { continue };
            step.after.remove(place);
            for (more, before) in gone.after.iter().enumerate() {
                if !step.after.contains(before) && *before != step.key {
                    step.after.insert(place.saturating_add(more).min(step.after.len()), before.clone());
                }
            }
        }
        true
    }

    /// Puts a step into the place of the one that has its key; where it changes between the way and the any-time steps
    /// it goes to the end of the other list. False where there is none of that key.
    pub fn put(&mut self, step: Step, on_the_way: bool) -> bool {
        let from_way = self.is_on_the_way(&step.key);
        let (list, other) = if from_way {
            (&mut self.steps, &mut self.any_time)
        } else {
            (&mut self.any_time, &mut self.steps)
        };
        let Some(place) = list.iter().position(|known| known.key == step.key) else { return false };
        if from_way == on_the_way {
            if let Some(known) = list.get_mut(place) {
                *known = step;
            }
        } else {
            list.remove(place);
            other.push(step);
        }
        true
    }

    /// Puts a step back that is not there any more: on the way behind the last of those it comes after, else at the end.
    pub fn put_back(&mut self, step: Step, on_the_way: bool) {
        if !on_the_way {
            self.any_time.push(step);
            return;
        }
        let before = self.steps.iter().rposition(|known| step.after.contains(&known.key));
        let place = before.map_or(self.steps.len(), |before| before.saturating_add(1));
        self.steps.insert(place, step);
    }

    /// The words a rule may use besides the keys of steps: what steps count as, in the order they stand, each once.
    #[must_use]
    pub fn own_words(&self) -> Vec<&str> {
        let mut found: Vec<&str> = Vec::new();
        for word in self.all().flat_map(|step| &step.counts_as) {
            if self.find(word).is_none() && !found.contains(&word.as_str()) {
                found.push(word);
            }
        }
        found
    }

    /// The titles of the steps that answer to a word, in order.
    #[must_use]
    pub fn titles_of(&self, word: &str) -> Vec<&str> {
        match self.find(word) {
            Some(step) => vec![step.title.as_str()],
            None => self.all().filter(|step| step.answers_to(word)).map(|step| step.title.as_str()).collect(),
        }
    }
}

/// A word of rules from what somebody typed: lower-case letters and digits, hyphens between. May come out empty.
#[must_use]
pub fn word_from(typed: &str) -> String {
    let mut made = String::new();
    for letter in typed.chars() {
        if letter.is_ascii_alphanumeric() {
            made.push(letter.to_ascii_lowercase());
        } else if !matches!(letter, '\'' | '’') && !made.is_empty() && !made.ends_with('-') {
            made.push('-');
        }
        if made.len() >= 36 {
            break;
        }
    }
    made.trim_end_matches('-').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::procedure::{check, shipped};

    fn keys(steps: &[Step]) -> Vec<&str> {
        steps.iter().map(|step| step.key.as_str()).collect()
    }

    #[test]
    fn keys_come_from_titles_and_are_never_taken_twice() {
        let mut procedure = Procedure::blank("Photo plate", Surface::Plate);
        assert_eq!(procedure.add_to_way("Make the film", None), "make-the-film");
        assert_eq!(procedure.add_to_way("Make the film!", Some("make-the-film")), "make-the-film-2");
        assert_eq!(procedure.add_any_time("Gummed"), "step");
        assert_eq!(procedure.add_any_time("Ätzen, 2. Mal"), "tzen-2-mal");
        assert_eq!(procedure.add_any_time("石"), "step-2");
        assert_eq!(procedure.key_for(&"long ".repeat(40)).len(), 36);
    }

    #[test]
    fn a_step_added_between_two_stands_between_them() {
        let mut procedure = Procedure::blank("x", Surface::Stone);
        let first = procedure.add_to_way("First", None);
        let last = procedure.add_to_way("Last", Some(&first));
        let between = procedure.add_to_way("Between", Some(&first));
        assert_eq!(keys(&procedure.steps), ["first", "between", "last"]);
        assert_eq!(procedure.find(&last).unwrap().after, [between.as_str()]);
        assert_eq!(procedure.find(&between).unwrap().after, [first.as_str()]);
        assert!(procedure.take_out(&between));
        assert_eq!(procedure.find(&last).unwrap().after, [first.as_str()]);
        assert!(!procedure.take_out(&between));
    }

    #[test]
    fn steps_move_within_their_list_only() {
        let mut procedure = shipped::procedures().unwrap().swap_remove(0);
        let before = keys(&procedure.steps).join(" ");
        assert!(!procedure.shift("prepare", true), "it is the first");
        assert!(procedure.shift("prepare", false) && procedure.shift("prepare", true));
        assert_eq!(keys(&procedure.steps).join(" "), before);
        let last = procedure.steps.last().unwrap().key.clone();
        assert!(!procedure.shift(&last, false), "it is the last of the way");
        assert!(!procedure.shift("nobody", true));
    }

    #[test]
    fn every_step_of_the_way_can_be_taken_out_without_leaving_an_unknown_step_to_wait_for() {
        for shipped in shipped::procedures().unwrap() {
            for key in keys(&shipped.steps) {
                let mut procedure = shipped.clone();
                assert!(procedure.take_out(key));
                let remarks = check(&procedure, &shipped::TOPICS);
                let lost = remarks
                    .iter()
                    .find(|remark| matches!(remark.key, "procedure-check-after" | "procedure-check-circle"));
                assert_eq!(lost, None, "{key}");
            }
        }
    }

    #[test]
    fn a_step_put_back_stays_in_its_place_or_changes_its_list() {
        let mut procedure = shipped::procedures().unwrap().swap_remove(0);
        let draw = procedure.find("draw").unwrap().clone();
        assert!(procedure.put(Step { title: "Draw well".to_owned(), ..draw.clone() }, true));
        assert_eq!(procedure.steps[1].title, "Draw well");
        assert!(procedure.put(draw.clone(), false));
        assert_eq!(procedure.any_time.last().unwrap().key, "draw");
        assert!(!procedure.is_on_the_way("draw"));
        assert!(!procedure.put(Step::bare("nobody", "Nobody"), true));
    }
}
