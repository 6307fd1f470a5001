//! The table, on the console and in `target/bench/report.{md,json}`.

use std::fmt::Write as _;
use std::path::Path;

use serde_json::{Value, json};

use crate::figure::{Figure, Goal, Taken};
use crate::load::{least, median, most};

/// A figure as it came out on one database.
pub struct Line {
    pub database: &'static str,
    pub figure: &'static Figure,
    pub taken: Result<Taken, String>,
    /// What this process held after it, now and at most, in MiB.
    pub memory: (u64, u64),
}

impl Line {
    fn goal(&self) -> Goal {
        self.figure.on_postgres.filter(|_| self.database == "PostgreSQL").unwrap_or(self.figure.goal)
    }

    /// A figure that could not be taken misses its goal too.
    pub fn meets_its_goal(&self) -> bool {
        self.taken.as_ref().is_ok_and(|taken| self.goal().is_met(median(&taken.values)))
    }

    pub fn words(&self) -> String {
        match &self.taken {
            Ok(taken) => format!(
                "{}, {}: {:.3} ({:.3} to {:.3}), {}; {}: {}",
                self.database,
                self.figure.name,
                median(&taken.values),
                least(&taken.values),
                most(&taken.values),
                taken.levels,
                self.goal().words(),
                if self.meets_its_goal() { "met" } else { "MISSED" },
            ),
            Err(reason) => format!("{}, {}: not taken: {reason}", self.database, self.figure.name),
        }
    }

    fn json(&self) -> Value {
        let values = self.taken.as_ref().map(|taken| taken.values.clone()).unwrap_or_default();
        json!({
            "database": self.database,
            "figure": self.figure.name,
            "floor": self.figure.floor,
            "goal": self.goal().words(),
            "met": self.meets_its_goal(),
            "values": values,
            "levels": self.taken.as_ref().map(|taken| taken.levels.clone()).unwrap_or_default(),
            "notes": self.taken.as_ref().map(|taken| taken.notes.clone()).unwrap_or_default(),
            "trouble": self.taken.as_ref().err(),
            "rss_mib": self.memory.0,
            "most_mib": self.memory.1,
        })
    }
}

/// Writes both files and gives back the table.
///
/// # Errors
/// A file cannot be written.
pub fn write(folder: &Path, machine: &Value, lines: &[Line]) -> std::io::Result<String> {
    let mut text = String::from("# Floors\n\n");
    if let Some(about) = machine.as_object() {
        for (name, value) in about {
            let value = value.as_str().map_or_else(|| value.to_string(), str::to_owned);
            let _always = writeln!(text, "- {}: {value}", name.replace('_', " "));
        }
    }
    text += "\nRatios are the median of pairs, floor and program in turn, with the least and the most.\n\n";
    text += "| database | figure | median | least to most | goal | | levels | process MiB, now and most |\n";
    text += "|---|---|---|---|---|---|---|---|\n";
    for line in lines {
        let (figure, (now, top)) = (line.figure, line.memory);
        let _always = match &line.taken {
            Ok(taken) => writeln!(
                text,
                "| {} | {} | {:.3} | {:.3} to {:.3} | {} | {} | {} | {now}, {top} |",
                line.database,
                figure.name,
                median(&taken.values),
                least(&taken.values),
                most(&taken.values),
                line.goal().words(),
                if line.meets_its_goal() { "met" } else { "missed" },
                taken.levels,
            ),
            Err(reason) => writeln!(
                text,
                "| {} | {} | not taken | | {} | missed | {reason} | {now}, {top} |",
                line.database,
                figure.name,
                line.goal().words()
            ),
        };
    }
    text += "\n";
    for line in lines {
        let notes = line.taken.as_ref().map(|taken| taken.notes.join("; ")).unwrap_or_default();
        let _always = writeln!(
            text,
            "- {}, {}: beside {}.{}{notes}",
            line.database,
            line.figure.name,
            line.figure.floor,
            if notes.is_empty() { "" } else { " " }
        );
    }
    let all = json!({ "machine": machine, "figures": lines.iter().map(Line::json).collect::<Vec<_>>() });
    std::fs::write(folder.join("report.md"), &text)?;
    std::fs::write(folder.join("report.json"), format!("{all:#}\n"))?;
    Ok(text)
}
