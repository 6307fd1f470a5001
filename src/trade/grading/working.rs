//! The reckoning line by line, so that a student can repeat it by hand.

use super::penalty::Penalty;
use super::tally::{Tally, Total};
use super::{Item, Lateness, Of, PERCENT_TEXT, Scheme, Status};
use crate::trade::exact::{Exact, Rounding, Ties};
use crate::trade::remark::Remark;

/// What bounds the grade while work is not yet marked.
pub(super) struct Possible<'a> {
    pub(super) low: Option<&'a Exact>,
    pub(super) high: Option<&'a Exact>,
}

/// All lines: each category's items and sum, then the total, its rounding, its letter and what is possible.
pub(super) fn lines(scheme: &Scheme, total: &Total<'_>, possible: &Possible<'_>) -> Vec<Remark> {
    let mut lines = Vec::new();
    for tally in &total.tallies {
        for item in &tally.category.items {
            lines.extend(item_lines(scheme, item));
        }
        lines.extend(tally.dropped.iter().filter_map(|place| dropped_line(tally, *place)));
        lines.extend(drops_line(tally));
        lines.extend(category_line(tally, total));
    }
    match total.percent() {
        Some(percent) => result_lines(scheme, total, &percent, &mut lines),
        None => lines.push(Remark::new("grading-line-nothing-counted")),
    }
    let items = total.tallies.iter().flat_map(|tally| &tally.category.items);
    let unmarked = items.filter(|item| item.status == Status::Pending).count();
    if let (1.., Some(low), Some(high)) = (unmarked, possible.low, possible.high) {
        lines.push(
            Remark::new("grading-line-possible")
                .with("low", low.text(PERCENT_TEXT))
                .with("high", high.text(PERCENT_TEXT)),
        );
    }
    lines
}

/// What is particular about an item: not counted, late, or extra credit.
fn item_lines(scheme: &Scheme, item: &Item) -> Vec<Remark> {
    let line =
        |key| Remark::new(key).with("item", item.title.as_str()).with("points", item.points.to_string());
    match item.status {
        Status::Excused => vec![line("grading-line-excused")],
        Status::Pending => vec![line("grading-line-pending")],
        Status::Missing if !scheme.missing_counts_zero => vec![line("grading-line-missing-left-out")],
        Status::Missing => vec![line("grading-line-missing-zero")],
        Status::Graded => {
            let late = item.lateness.is_late().then(|| late_line(scheme, item)).flatten();
            let extra = item.extra_credit.then(|| line("grading-line-extra-credit"));
            late.into_iter().chain(extra).collect()
        }
    }
}

fn late_line(scheme: &Scheme, item: &Item) -> Option<Remark> {
    let (rule, score) = (scheme.late.as_ref()?, item.score.as_ref()?);
    let Penalty { days, off, left, too_late } = rule.on(score, &item.points, &item.lateness);
    let key = match (&item.lateness, rule.of) {
        (Lateness::Hours(_), _) if days.is_zero() => "grading-line-in-grace",
        _ if too_late => "grading-line-too-late",
        _ if off > *score => "grading-line-late-all-gone",
        (_, Of::Possible) => "grading-line-late-possible",
        (_, Of::Earned) => "grading-line-late-earned",
    };
    let line = Remark::new(key)
        .with("item", item.title.as_str())
        .with("score", score.to_string())
        .with("points", item.points.to_string())
        .with("days", days.to_i64().unwrap_or(i64::MAX))
        .with("percent", rule.percent_per_day.to_string())
        .with("base", if rule.of == Of::Possible { item.points.to_string() } else { score.to_string() })
        .with("most", i64::from(rule.max_days.unwrap_or(u32::MAX)))
        .with("grace", rule.grace_hours.to_string())
        .with("off", off.to_string())
        .with("left", left.to_string());
    Some(match &item.lateness {
        Lateness::Hours(hours) => line.with("hours", hours.to_string()),
        Lateness::Days(_) => line,
    })
}

fn dropped_line(tally: &Tally<'_>, dropped: usize) -> Option<Remark> {
    let (_, item, earned) = tally.counted.iter().find(|(place, _, _)| *place == dropped)?;
    Some(
        Remark::new("grading-line-dropped")
            .with("item", item.title.as_str())
            .with("score", earned.to_string())
            .with("points", item.points.to_string()),
    )
}

/// Where as many may be dropped as count, whoever set it wonders what becomes of the last one.
fn drops_line(tally: &Tally<'_>) -> Option<Remark> {
    let count = tally.counted.iter().filter(|(_, item, _)| !item.extra_credit).count();
    let drops = tally.category.drop_lowest;
    (count > 0 && usize::try_from(drops).is_ok_and(|drops| drops >= count)).then(|| {
        Remark::new("grading-line-drops-all")
            .with("category", tally.category.name.as_str())
            .with("drops", i64::from(drops))
            .with("count", i64::try_from(count).unwrap_or(i64::MAX))
    })
}

fn category_line(tally: &Tally<'_>, total: &Total<'_>) -> Option<Remark> {
    let name = tally.category.name.as_str();
    let Some(percent) = tally.percent() else {
        // With nothing counted anywhere there is no one to take over the weight; one line at the end says so.
        return total.percent().map(|_| {
            Remark::new("grading-line-category-empty")
                .with("category", name)
                .with("weight", tally.category.weight.to_string())
        });
    };
    let asked = tally.kept().filter(|(item, _)| !item.extra_credit).map(|(item, _)| &item.points);
    let alone = tally.kept().count() == 1;
    Some(
        Remark::new(if alone { "grading-line-category-of-one" } else { "grading-line-category" })
            .with("category", name)
            .with("scores", sum_text(tally.kept().map(|(_, earned)| earned)))
            .with("points", sum_text(asked))
            .with("earned", tally.earned.to_string())
            .with("asked", tally.asked.to_string())
            .with("equals", percent.equals(&[&tally.earned, &tally.asked]))
            .with("percent", percent.to_string()),
    )
}

fn result_lines(scheme: &Scheme, total: &Total<'_>, percent: &Exact, lines: &mut Vec<Remark>) {
    lines.push(total_line(total, percent));
    lines.push(Remark::new("grading-line-weight").with("weight", total.counted_weight().to_string()));
    let rounded = percent.rounded(scheme.rounding);
    lines.push(
        Remark::new(match scheme.rounding.ties {
            Ties::HalfUp => "grading-line-rounded-half-up",
            Ties::HalfEven => "grading-line-rounded-half-even",
            Ties::Truncate => "grading-line-rounded-truncate",
        })
        .with("percent", before_rounding(percent, scheme.rounding))
        .with("places", i64::from(scheme.rounding.places))
        .with("rounded", rounded.text(scheme.rounding)),
    );
    lines.extend(scheme.scale.step(&rounded).map(|step| {
        Remark::new("grading-line-letter")
            .with("rounded", rounded.text(scheme.rounding))
            .with("from", step.from.to_string())
            .with("letter", step.letter.as_str())
    }));
}

/// The percent with as many decimals as it takes to see where rounding leads: 89.49999 is not shown as 89.5.
fn before_rounding(percent: &Exact, rounding: Rounding) -> String {
    let shown = |places| percent.rounded(Rounding::half_up(places));
    let leads_the_same = |places: &u32| shown(*places).rounded(rounding) == percent.rounded(rounding);
    (4..=Rounding::MOST_PLACES).find(leads_the_same).map_or_else(
        || percent.to_string(),
        |places| {
            let shown = shown(places);
            if shown.is_short() { shown.to_string() } else { shown.text(Rounding::half_up(places)) }
        },
    )
}

fn total_line(total: &Total<'_>, percent: &Exact) -> Remark {
    let counted: Vec<(&Exact, Exact)> =
        total.tallies.iter().filter_map(|tally| Some((&tally.category.weight, tally.percent()?))).collect();
    let products: Vec<String> =
        counted.iter().map(|(weight, percent)| format!("{weight} × {percent}")).collect();
    let in_full = percent.is_short() && counted.iter().all(|(_, percent)| percent.is_short());
    Remark::new(if in_full { "grading-line-total" } else { "grading-line-total-shortened" })
        .with("products", products.join(" + "))
        .with("weights", sum_text(counted.iter().map(|(weight, _)| *weight)))
        .with("percent", percent.to_string())
}

fn sum_text<'a>(numbers: impl Iterator<Item = &'a Exact>) -> String {
    numbers.map(Exact::to_string).collect::<Vec<_>>().join(" + ")
}
