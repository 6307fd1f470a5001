//! May this step start, and did that fact keep the rules? Both are the same question, asked of the same
//! rules at two different moments.
//!
//! The hard orderings the shipped procedures declare (no roll-up before a first etch, no addition without a
//! counter-etch, a counter-etch always followed by an etch before printing, a go-ahead before the edition,
//! nothing printed after cancelling) are those of the studio handouts; the rules themselves are general.

use chrono::{DateTime, Utc};
use chrono_tz::Tz;

use super::GUMMED;
use super::chart::{Charted, Meant, Needed, StepAt};
use super::history::{Allowance, ClassChoice, Entry, Held, History, Lack};
use super::rests::{Warning, minutes_between};
use super::rules::{Findings, Rules};
use super::step::{Need, SignOff, Step, spelled_minutes, word};
use super::timeline::{Run, Timeline};
use crate::spelled;
use crate::trade::remark::Remark;

/// One plate and the person at it: all a judgement looks at. Sign-offs are that person's, of the plate's studio.
#[derive(Debug, Clone, Copy)]
pub struct Case<'a> {
    pub procedure: &'a Charted,
    pub choice: &'a ClassChoice,
    pub history: &'a History,
    pub sign_offs: &'a [Held],
    pub allowances: &'a [Allowance],
    /// The studio's zone, for everything that speaks of a day.
    pub zone: Tz,
}

spelled!(
    /// The rules a step can break; these words are stored with an entry outside the rules.
    RuleName {
        /// The plate's procedure has no such step.
        UnknownStep = "unknown_step",
        /// An earlier entry outside the rules has not been settled.
        Unsettled = "unsettled",
        /// This step, or another that holds the plate, has not been ended.
        UnderWay = "under_way",
        /// A step was done after which this one may not be (the plate is cancelled or scrapped).
        Ended = "ended",
        /// A step it waits for is not done.
        Order = "order",
        /// None of the steps it needs at some time before is done.
        AfterAnyOf = "after_any_of",
        /// Something was done that calls for another step first.
        RequiresSince = "requires_since",
        /// It may be done only once on a plate.
        Once = "once",
        /// The shortest rest is not over.
        Rest = "rest",
        /// A sign-off is missing, expired, withdrawn or not far enough.
        SignOff = "sign_off",
        /// It was left off half way.
        LeftOff = "left_off",
    }
);

/// One broken rule: what is missing and what to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Broken {
    pub rule: RuleName,
    pub remark: Remark,
    /// Why the rule is there, in the instructor's words; may be empty.
    pub because: String,
    /// The key of the step, or the topic, that is missing; may be empty.
    pub about: String,
    /// When the rule stops refusing by itself: the end of a rest.
    pub until: Option<DateTime<Utc>>,
}

/// The answer for one step at one moment.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Verdict {
    /// Rules that refuse it; none means it may start, or that the fact kept the rules.
    pub broken: Vec<Broken>,
    /// Rules an allowance set aside; the caller marks that allowance used.
    pub allowed: Vec<RuleName>,
    pub warnings: Vec<Warning>,
}

impl RuleName {
    /// Whether an instructor's allowance can set it aside: once, with a reason that is kept. A missing sign-off
    /// too, because the instructor may stand beside the student; a step under way is ended instead.
    #[must_use]
    pub fn may_be_allowed(self) -> bool {
        !matches!(self, Self::UnderWay | Self::UnknownStep | Self::LeftOff)
    }
}

impl Verdict {
    /// Whether nothing refuses it.
    #[must_use]
    pub fn may_start(&self) -> bool {
        self.broken.is_empty()
    }

    /// The names of the broken rules, each once, in the order they were found.
    #[must_use]
    pub fn rules(&self) -> Vec<RuleName> {
        let mut names = Vec::new();
        for broken in &self.broken {
            if !names.contains(&broken.rule) {
                names.push(broken.rule);
            }
        }
        names
    }
}

impl<'a> Case<'a> {
    /// Whether the step of that key may start at `now`.
    #[must_use]
    pub fn may_start(&self, key: &str, now: DateTime<Utc>) -> Verdict {
        let line = Timeline::until(self.procedure, self.history, now);
        self.judge_key(key, &line, now)
    }

    /// The rules a run that happened broke when it began. It is judged by what began before it, so the answer
    /// is the same whether or not the entry, or later ones, are in the history.
    #[must_use]
    pub fn judge_done(&self, entry: &Entry) -> Vec<RuleName> {
        self.judge(entry).rules()
    }

    /// The whole judgement of a run that happened; its warnings are the limits it went past.
    #[must_use]
    pub fn judge(&self, entry: &Entry) -> Verdict {
        let line = Timeline::before(self.procedure, self.history, &entry.step, entry.began);
        let mut verdict = self.judge_key(&entry.step, &line, entry.began);
        verdict.warnings.retain(|warning| warning.name.is_passed());
        verdict
    }

    /// The etch entries (places in `History::entries`) of which a run of step `key` at `at` will show how
    /// they came up: those since the last step that showed it, the earliest first.
    #[must_use]
    pub fn etches_to_ask_about(&self, key: &str, at: DateTime<Utc>) -> Vec<usize> {
        if !self.procedure.find(key).is_some_and(|step| step.shows_etch) {
            return Vec::new();
        }
        let line = Timeline::before(self.procedure, self.history, key, at);
        let mut open = Vec::new();
        for run in &line.runs {
            match run.step {
                Some(step) if step.shows_etch => open.clear(),
                Some(step) if step.records == super::Records::Etch => open.extend(run.index),
                _ => {}
            }
        }
        open
    }

    fn judge_key(&self, key: &str, line: &Timeline<'a>, at: DateTime<Utc>) -> Verdict {
        match self.procedure.find_at(key) {
            Some(step) => self.judge_step(step, line, at),
            None => Verdict {
                broken: vec![Broken::new(
                    RuleName::UnknownStep,
                    Remark::new("procedure-unknown-step").with("step", key),
                )],
                ..Verdict::default()
            },
        }
    }

    fn judge_step(&self, step: StepAt<'a>, line: &Timeline<'a>, at: DateTime<Utc>) -> Verdict {
        let mut broken: Vec<Broken> = Vec::new();
        self.judge_into(&mut broken, step, line, at);
        let mut allowed = Vec::new();
        if self.is_allowed(&step, at) {
            allowed = broken.iter().map(|one| one.rule).filter(|rule| rule.may_be_allowed()).collect();
            broken.retain(|one| !one.rule.may_be_allowed());
        }
        Verdict { broken, allowed, warnings: self.warnings(step, line, at) }
    }

    /// The rules of [`Verdict::broken`], without a sentence.
    pub(super) fn broken_rules(&self, step: StepAt<'a>, line: &Timeline<'a>, at: DateTime<Utc>) -> Rules {
        let mut rules = Rules::default();
        self.judge_into(&mut rules, step, line, at);
        if self.is_allowed(&step, at) { rules.without(RuleName::may_be_allowed) } else { rules }
    }

    fn is_allowed(&self, step: &Step, at: DateTime<Utc>) -> bool {
        self.allowances.iter().any(|allowance| allowance.covers(&step.key, at))
    }

    fn judge_into(
        &self,
        found: &mut impl Findings,
        step: StepAt<'a>,
        line: &Timeline<'a>,
        at: DateTime<Utc>,
    ) {
        self.held_up(found, step, line, at);
        self.out_of_order(found, step, line);
        for needed in step.needed() {
            self.unmet(found, step, needed, line);
        }
        self.too_soon(found, step, line, at);
        for need in &step.sign_offs {
            self.not_signed_off(found, &step, need, at);
        }
    }

    /// The first entry (a place in `History::entries`) outside the rules that was not settled by `at`.
    pub(super) fn blocked_by(&self, line: &Timeline<'_>, at: DateTime<Utc>) -> Option<usize> {
        line.runs
            .iter()
            .filter_map(|run| run.index)
            .find(|index| self.history.entries.get(*index).is_some_and(|entry| entry.waits_at(at)))
    }

    /// What holds the plate itself: an unsettled entry, a run not ended, an end that was reached.
    fn held_up(&self, found: &mut impl Findings, step: StepAt<'_>, line: &Timeline<'_>, at: DateTime<Utc>) {
        let title = step.title.as_str();
        if let Some(run) = line.open().find(|run| run.is_of(step)) {
            found.add(RuleName::UnderWay, |rule| {
                Broken::new(rule, Remark::new("procedure-under-way-itself").with("step", title))
                    .about(run.key)
            });
        }
        if !step.beside_others && !step.never_waits {
            if let Some(entry) = self.blocked_by(line, at).and_then(|index| self.history.entries.get(index)) {
                found.add(RuleName::Unsettled, |rule| {
                    let remark = Remark::new("procedure-unsettled").with("step", title);
                    let remark = remark.with("earlier", self.title_of(&entry.step));
                    Broken::new(rule, remark).about(&entry.step)
                });
            }
            let holds = |run: &&Run<'_>| !run.is_of(step) && !run.step.is_some_and(|it| it.beside_others);
            if let Some(run) = line.open().find(holds) {
                found.add(RuleName::UnderWay, |rule| {
                    let remark = Remark::new("procedure-under-way-other").with("step", title);
                    let remark = remark.with("other", self.title_of(run.key));
                    Broken::new(rule, remark).about(run.key)
                });
            }
        }
        if let Some(end) = ended_by(step, line) {
            found.add(RuleName::Ended, |rule| {
                let remark = Remark::new("procedure-ended").with("step", title);
                Broken::new(rule, remark.with("end", end.title.as_str())).about(&end.key)
            });
        }
    }

    fn out_of_order(&self, found: &mut impl Findings, step: StepAt<'a>, line: &Timeline<'_>) {
        for before in self.lacking(step, line) {
            found.add(RuleName::Order, |rule| {
                let remark = Remark::new("procedure-order").with("step", step.title.as_str());
                Broken::new(rule, remark.with("before", before.title.as_str())).about(&before.key)
            });
        }
    }

    /// The steps `step` waits for that are neither done nor passed over by some other step.
    pub(super) fn lacking<'l>(
        &'l self,
        step: StepAt<'a>,
        line: &'l Timeline<'_>,
    ) -> impl Iterator<Item = StepAt<'a>> {
        let waits_for = self.procedure.waits_for(step, self.choice);
        waits_for.filter(move |before| !line.done(*before) && !self.is_passed_over(*before, Some(step), line))
    }

    /// Whether the timeline breaks the rule `needed` of `step`.
    pub(super) fn is_unmet(&self, step: StepAt<'_>, needed: Needed<'_>, line: &Timeline<'_>) -> bool {
        let Needed { of, since, .. } = needed;
        match needed.need {
            Need::Once { .. } => line.runs.iter().any(|run| run.is_of(step) && !run.again),
            Need::AfterAnyOf { .. } => line.last_end(of).is_none() && self.can_be_done(of),
            Need::RequiresSince { .. } => {
                let unanswered = |called| line.last_end(of).is_none_or(|answered| answered < called);
                line.last_mark(since).is_some_and(unanswered) && self.can_be_done(of)
            }
        }
    }

    /// The rule `needed` of `step`, if the timeline breaks it.
    fn unmet(&self, found: &mut impl Findings, step: StepAt<'_>, needed: Needed<'_>, line: &Timeline<'_>) {
        if !self.is_unmet(step, needed, line) {
            return;
        }
        let because = needed.need.because();
        match needed.need {
            Need::Once { .. } => found.add(RuleName::Once, |rule| {
                let remark = Remark::new("procedure-once").with("step", step.title.as_str());
                Broken::new(rule, remark).about(&step.key).because(because)
            }),
            Need::AfterAnyOf { of, .. } => found.add(RuleName::AfterAnyOf, |rule| {
                self.names(rule, "procedure-after-any-of", &step, of).because(because)
            }),
            Need::RequiresSince { of, since, .. } => found.add(RuleName::RequiresSince, |rule| {
                let broken = self.names(rule, "procedure-requires-since", &step, of).because(because);
                Broken { remark: broken.remark.with("since", self.titles(since)), ..broken }
            }),
        }
    }

    fn too_soon(&self, found: &mut impl Findings, step: StepAt<'_>, line: &Timeline<'_>, at: DateTime<Utc>) {
        let Some(until) = self.rested(step, line).rule.filter(|until| at < *until) else { return };
        found.add(RuleName::Rest, |rule| {
            let remark = Remark::new("procedure-rest")
                .with("step", step.title.as_str())
                .with("rest", spelled_minutes(step.rest.minimum))
                .with("left", spelled_minutes(minutes_between(at, until)));
            Broken { until: Some(until), ..Broken::new(rule, remark) }
        });
    }

    fn not_signed_off(&self, found: &mut impl Findings, step: &Step, need: &SignOff, at: DateTime<Utc>) {
        let mut nearest = Lack::Missing;
        for held in self.sign_offs {
            match held.covers(need, at, self.zone) {
                Ok(()) => return,
                Err(lack) => nearest = nearest.min(lack),
            }
        }
        found.add(RuleName::SignOff, |rule| {
            let remark = match nearest {
                Lack::Missing => Remark::new("procedure-sign-off-missing"),
                Lack::Withdrawn => Remark::new("procedure-sign-off-withdrawn"),
                Lack::Expired(last) => {
                    Remark::new("procedure-sign-off-expired").with("day", last.to_string())
                }
                Lack::Grade(held) => Remark::new("procedure-sign-off-grade").with("held", word(held)),
            };
            let remark = remark
                .with("step", step.title.as_str())
                .with("topic", need.topic.replace('-', " "))
                .with("grade", word(need.grade));
            Broken::new(rule, remark).about(&need.topic)
        });
    }

    /// Whether any of these words means a step the class keeps; a rule about steps it does without is void.
    fn can_be_done(&self, meant: &Meant) -> bool {
        let kept = |step: StepAt<'_>| meant.steps.has(step) && !self.choice.leaves_out(&step);
        meant.gummed || self.procedure.steps_at().any(kept)
    }

    fn names(&self, rule: RuleName, key: &'static str, step: &Step, of: &[String]) -> Broken {
        let remark = Remark::new(key).with("step", step.title.as_str()).with("of", self.titles(of));
        Broken::new(rule, remark).about(of.first().map_or("", String::as_str))
    }

    /// The titles of the steps these words mean, each once; a word that is a step's key means that step alone.
    fn titles(&self, words: &[String]) -> String {
        let mut titles: Vec<&str> = Vec::new();
        for word in words {
            // Any gumming would name half the procedure: it stands back behind the steps named before it.
            if word == GUMMED && !titles.is_empty() {
                continue;
            }
            let named = self.procedure.find(word);
            let answering = self.procedure.all().filter(|step| match named {
                Some(named) => step.key == named.key,
                None => step.answers_to(word) && !self.choice.leaves_out(step),
            });
            for step in answering {
                if !titles.contains(&step.title.as_str()) {
                    titles.push(&step.title);
                }
            }
        }
        titles.join(", ")
    }

    fn title_of(&self, key: &str) -> String {
        self.procedure.find(key).map_or(key, |step| step.title.as_str()).to_owned()
    }
}

/// Whether any step was done after which some others may not be.
pub(super) fn has_ended(line: &Timeline<'_>) -> bool {
    line.runs.iter().any(|run| run.ended.is_some() && run.step.is_some_and(|step| step.then_only.is_some()))
}

/// The step done after which `step` may not be.
pub(super) fn ended_by<'a>(step: StepAt<'_>, line: &Timeline<'a>) -> Option<StepAt<'a>> {
    line.runs
        .iter()
        .filter(|run| run.ended.is_some())
        .filter_map(|run| run.step)
        .find(|done| done.then_only.as_ref().is_some_and(|only| !only.contains(&step.key)))
}

impl Broken {
    fn new(rule: RuleName, remark: Remark) -> Self {
        Self { rule, remark, because: String::new(), about: String::new(), until: None }
    }

    fn about(self, key: &str) -> Self {
        Self { about: key.to_owned(), ..self }
    }

    fn because(self, because: &str) -> Self {
        Self { because: because.to_owned(), ..self }
    }
}
