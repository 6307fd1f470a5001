//! Load: `wrk` on the other core, floor and program in turn, so that a busy neighbour slows both.

use std::path::Path;
use std::process::Command;

use crate::figure::{Bench, Taken};
use crate::paced;

/// Where load goes: an address, a session, and for a POST wrk's script.
#[derive(Debug, Clone)]
pub struct Target<'a> {
    pub address: String,
    pub cookie: String,
    pub script: Option<&'a Path>,
}

impl Target<'_> {
    /// Requests a second over so many seconds.
    ///
    /// # Errors
    /// wrk is missing, or something was answered with an error.
    pub fn load(&self, seconds: u32) -> Result<f64, String> {
        let mut command = Command::new("taskset");
        command.args(["-c", "1", "wrk", "-t1", "-c4", &format!("-d{seconds}s"), "--timeout", "10s"]);
        command.args(["-H", &format!("Cookie: {}", self.cookie)]);
        if let Some(script) = self.script {
            command.arg("-s").arg(script);
        }
        let done = command.arg(&self.address).output().map_err(|error| format!("starting wrk: {error}"))?;
        let said = String::from_utf8_lossy(&done.stdout).into_owned();
        if !done.status.success() {
            return Err(format!("wrk: {said}{}", String::from_utf8_lossy(&done.stderr)));
        }
        if let Some(line) =
            said.lines().find(|line| line.contains("Non-2xx") || line.contains("Socket errors"))
        {
            return Err(format!("{}: {}", self.address, line.trim()));
        }
        said.lines()
            .find_map(|line| line.strip_prefix("Requests/sec:")?.trim().parse().ok())
            .filter(|rate: &f64| *rate > 0.0)
            .ok_or(format!("{}: wrk counted nothing: {said}", self.address))
    }
}

/// The program's rate as a part of the floor's: a pair at a time, in the order ABBA.
///
/// # Errors
/// As `Target::load`.
pub fn pairs(bench: &Bench, program: &Target<'_>, floor: &Target<'_>) -> Result<Taken, String> {
    let (program_rates, floor_rates) = rates(bench, bench.options.pairs, program, floor)?;
    let values = program_rates.iter().zip(&floor_rates).map(|(own, floor)| own / floor).collect();
    let levels = format!("{:.0} a second; floor {:.0}", median(&program_rates), median(&floor_rates));
    let mut notes = Vec::new();
    if program.script.is_none() {
        let (half, seconds) = (median(&floor_rates) / 2.0, bench.options.seconds);
        notes.push(format!(
            "{}; floor {}",
            paced::latency(program, half, seconds)?,
            paced::latency(floor, half, seconds)?
        ));
    }
    Ok(Taken { values, levels, notes })
}

/// The program against itself: how much two runs of the same differ here and now. Outside 0.97 to 1.03 it is taken once
/// more; the second time it is only said.
///
/// # Errors
/// As `Target::load`.
pub fn null_test(bench: &Bench, program: &Target<'_>) -> Result<String, String> {
    let mut said = String::new();
    for _ in 0..2 {
        let (one, other) = rates(bench, bench.options.pairs.min(5), program, program)?;
        let ratios: Vec<f64> = one.iter().zip(&other).map(|(one, other)| one / other).collect();
        let middle = median(&ratios);
        said = format!(
            "the program against itself: {middle:.3} ({:.3} to {:.3})",
            least(&ratios),
            most(&ratios)
        );
        if (0.97..=1.03).contains(&middle) && most(&ratios) - least(&ratios) <= 0.1 {
            return Ok(said);
        }
    }
    Ok(format!("noisy machine, {said}"))
}

fn rates(
    bench: &Bench,
    pairs: usize,
    one: &Target<'_>,
    other: &Target<'_>,
) -> Result<(Vec<f64>, Vec<f64>), String> {
    let seconds = bench.options.seconds;
    one.load(1)?;
    other.load(1)?;
    let (mut ones, mut others) = (Vec::new(), Vec::new());
    for pair in 0..pairs {
        if pair % 2 == 0 {
            ones.push(one.load(seconds)?);
            others.push(other.load(seconds)?);
        } else {
            others.push(other.load(seconds)?);
            ones.push(one.load(seconds)?);
        }
    }
    Ok((ones, others))
}

pub fn median(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let middle = sorted.len() / 2;
    match sorted.len() {
        0 => f64::NAN,
        length if length % 2 == 1 => sorted[middle],
        _ => f64::midpoint(sorted[middle - 1], sorted[middle]),
    }
}

pub fn least(values: &[f64]) -> f64 {
    values.iter().copied().fold(f64::INFINITY, f64::min)
}

pub fn most(values: &[f64]) -> f64 {
    values.iter().copied().fold(f64::NEG_INFINITY, f64::max)
}
