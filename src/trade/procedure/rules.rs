//! Broken rules by name alone. A judgement of every step of every plate is asked for far more often than the sentences
//! about one of them: it is written into a set of names, and spelled out only for the step somebody reads about.

use super::verdict::{Broken, RuleName};

/// A set of rules.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Rules(u16);

impl Rules {
    #[must_use]
    pub fn is_empty(self) -> bool {
        self.0 == 0
    }

    #[must_use]
    pub fn contains(self, rule: RuleName) -> bool {
        self.0 & Self::bit(rule) != 0
    }

    /// Whether nothing but these is in it.
    #[must_use]
    pub fn only(self, rules: &[RuleName]) -> bool {
        self.0 & !rules.iter().fold(0, |all, rule| all | Self::bit(*rule)) == 0
    }

    /// Without those that answer.
    pub(super) fn without(self, answers: impl Fn(RuleName) -> bool) -> Self {
        use crate::trade::spelled::Spelled as _;
        let away = RuleName::ALL.iter().filter(|rule| answers(**rule));
        Self(away.fold(self.0, |left, rule| left & !Self::bit(*rule)))
    }

    fn bit(rule: RuleName) -> u16 {
        1 << rule as u16
    }
}

impl FromIterator<RuleName> for Rules {
    fn from_iter<I: IntoIterator<Item = RuleName>>(rules: I) -> Self {
        Self(rules.into_iter().fold(0, |all, rule| all | Self::bit(rule)))
    }
}

/// What a judgement is written into.
pub(super) trait Findings {
    /// A rule is broken; `spell` says so, for whoever wants the sentence.
    fn add(&mut self, rule: RuleName, spell: impl FnOnce(RuleName) -> Broken);
}

impl Findings for Rules {
    fn add(&mut self, rule: RuleName, _: impl FnOnce(RuleName) -> Broken) {
        self.0 |= Self::bit(rule);
    }
}

impl Findings for Vec<Broken> {
    fn add(&mut self, rule: RuleName, spell: impl FnOnce(RuleName) -> Broken) {
        self.push(spell(rule));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::spelled::Spelled as _;

    #[test]
    fn every_rule_has_its_own_place_in_a_set() {
        for rule in RuleName::ALL {
            let one: Rules = [*rule].into_iter().collect();
            for other in RuleName::ALL {
                assert_eq!(one.contains(*other), rule == other, "{rule:?} {other:?}");
                assert_eq!(one.only(&[*other]), rule == other, "{rule:?} {other:?}");
            }
            assert!(one.without(|it| it == *rule).is_empty());
        }
        assert_eq!(
            RuleName::ALL.iter().copied().collect::<Rules>().0.count_ones() as usize,
            RuleName::ALL.len()
        );
        assert!(Rules::default().is_empty() && Rules::default().only(&[]));
    }
}
