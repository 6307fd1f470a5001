//! The machine under the figures: what it is, how fast it hashes and writes, and what memory this process holds.

use std::io::Write as _;
use std::path::Path;
use std::time::Instant;

use serde_json::{Value, json};
use tympan::secrets::sha256_hex;

/// What a reader needs to compare two reports.
pub fn about(folder: &Path) -> Value {
    let first = |path: &str| std::fs::read_to_string(path).unwrap_or_default();
    let processor = first("/proc/cpuinfo")
        .lines()
        .find_map(|line| {
            line.strip_prefix("model name").map(|rest| rest.trim_start_matches([' ', '\t', ':']).to_owned())
        })
        .unwrap_or_default();
    json!({
        "processor": processor,
        "processors": first("/proc/cpuinfo").lines().filter(|line| line.starts_with("processor")).count(),
        "kernel": first("/proc/sys/kernel/osrelease").trim(),
        "load_before": first("/proc/loadavg").split(' ').next().unwrap_or_default(),
        "commit": commit(),
        "sha256_mb_per_s": sha256_mb_per_s(),
        "fdatasync_p50_us": fdatasync_p50_us(folder),
        "mib_at_rest_and_at_most": format!("{}, {}", memory().0, memory().1),
    })
}

fn commit() -> String {
    let git = |arguments: &[&str]| {
        let done = std::process::Command::new("git").args(arguments).output().ok()?;
        Some(String::from_utf8_lossy(&done.stdout).trim().to_owned())
    };
    let id = git(&["rev-parse", "--short", "HEAD"]).unwrap_or_else(|| "unknown".into());
    let changed =
        git(&["status", "--porcelain", "--untracked-files=no"]).is_some_and(|changes| !changes.is_empty());
    if changed { format!("{id} and uncommitted changes") } else { id }
}

fn sha256_mb_per_s() -> u64 {
    let block = vec![7_u8; 8 << 20];
    let began = Instant::now();
    for _ in 0..8 {
        std::hint::black_box(sha256_hex(std::hint::black_box(&block)));
    }
    (64.0 * 1.048_576 / began.elapsed().as_secs_f64()) as u64
}

fn fdatasync_p50_us(folder: &Path) -> u64 {
    let path = folder.join("fdatasync");
    let mut took: Vec<u64> = Vec::new();
    let mut file = std::fs::File::create(&path).unwrap();
    for _ in 0..200 {
        file.write_all(&[1; 4096]).unwrap();
        let began = Instant::now();
        file.sync_data().unwrap();
        took.push(began.elapsed().as_micros() as u64);
    }
    std::fs::remove_file(&path).unwrap();
    took.sort_unstable();
    took[100]
}

/// Begins anew to count what the process held at most, where the kernel lets it (proc(5), `clear_refs`).
pub fn forget_the_most() {
    let _without_it_the_most_is_of_the_whole_run = std::fs::write("/proc/self/clear_refs", "5");
}

/// What this process holds now and held at most since it was last forgotten: floor and program together.
pub fn memory() -> (u64, u64) {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let mib = |what: &str| {
        let line = status.lines().find(|line| line.starts_with(what));
        line.and_then(|line| line.split_whitespace().nth(1)?.parse::<u64>().ok()).unwrap_or(0) / 1024
    };
    (mib("VmRSS"), mib("VmHWM"))
}
