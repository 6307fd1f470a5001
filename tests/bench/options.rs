//! What the command line says: `cargo bench --bench floors -- --pairs 3 --only today`.

use crate::figure::FIGURES;

#[derive(Debug, Clone)]
pub struct Options {
    /// Pairs of runs, floor and program in turn.
    pub pairs: usize,
    /// How long a run takes.
    pub seconds: u32,
    /// A missed goal ends with 1.
    pub goal: bool,
    /// Words of which a figure's name must hold one; none asks for all.
    pub only: Vec<String>,
}

const USAGE: &str = "cargo bench --bench floors -- [--pairs N] [--seconds N] [--goal] [--only WORD]...";

impl Options {
    /// # Errors
    /// A sentence that says what is wrong.
    pub fn read(arguments: impl Iterator<Item = String>) -> Result<Self, String> {
        let mut options = Self { pairs: 9, seconds: 2, goal: false, only: Vec::new() };
        let mut arguments = arguments;
        while let Some(argument) = arguments.next() {
            let mut number = |least: u32| {
                let value = arguments.next().unwrap_or_default();
                value
                    .parse::<u32>()
                    .ok()
                    .filter(|number| (least..=99).contains(number))
                    .ok_or(format!("{argument} {value}: say a number from {least} to 99. {USAGE}"))
            };
            match argument.as_str() {
                // cargo says so to every bench.
                "--bench" => {}
                "--pairs" => options.pairs = number(1)? as usize,
                "--seconds" => options.seconds = number(1)?,
                "--goal" => options.goal = true,
                "--only" => options.only.push(arguments.next().unwrap_or_default()),
                other => return Err(format!("{other} is unknown. {USAGE}")),
            }
        }
        let names = |word: &String| FIGURES.iter().any(|figure| figure.name.contains(word.as_str()));
        if let Some(strange) = options.only.iter().find(|word| !names(word)) {
            let all: Vec<_> = FIGURES.iter().map(|figure| figure.name).collect();
            return Err(format!("--only {strange}: no figure is called so; there are {}.", all.join("; ")));
        }
        Ok(options)
    }

    pub fn wants(&self, name: &str) -> bool {
        self.only.is_empty() || self.only.iter().any(|word| name.contains(word.as_str()))
    }
}
