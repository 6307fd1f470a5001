//! How long an answer takes at half of what the floor can do: a client that sends at moments fixed beforehand and counts
//! from them, so that an answer that is late makes those after it late too. It runs as a process of its own on the load's
//! core: `--paced ADDRESS COOKIE RATE SECONDS`.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::Command;
use std::time::{Duration, Instant};

use crate::load::Target;

const CLIENTS: u32 = 4;

/// The median and the 99th of a hundred, in milliseconds, in words.
///
/// # Errors
/// An answer other than 200, or none.
pub fn latency(target: &Target<'_>, rate: f64, seconds: u32) -> Result<String, String> {
    let itself = std::env::current_exe().map_err(|error| error.to_string())?;
    let mut command = Command::new("taskset");
    command.args(["-c", "1"]).arg(itself).args(["--paced", &target.address, &target.cookie]);
    let done = command.args([rate.to_string(), seconds.to_string()]).output();
    let done = done.map_err(|error| format!("starting the paced client: {error}"))?;
    let said = String::from_utf8_lossy(&done.stdout).trim().to_owned();
    match done.status.success() {
        true => Ok(format!("at {rate:.0} a second {said}")),
        false => Err(String::from_utf8_lossy(&done.stderr).into_owned()),
    }
}

/// What the process of its own does.
///
/// # Errors
/// As `latency`.
pub fn run(words: &[String]) -> Result<(), String> {
    let [address, cookie, rate, seconds] = words else { return Err("--paced takes four words".into()) };
    let (host, path) =
        address.trim_start_matches("http://").split_once('/').ok_or("an address has a path")?;
    let rate: f64 = rate.parse().map_err(|_error| format!("{rate} is no rate"))?;
    let seconds: f64 = seconds.parse().map_err(|_error| format!("{seconds} is no time"))?;
    let request = format!("GET /{path} HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\n\r\n");
    let all = (rate * seconds) as u32;
    let start = Instant::now() + Duration::from_millis(50);
    let clients: Vec<_> = (0..CLIENTS)
        .map(|client| {
            let (host, request) = (host.to_owned(), request.clone());
            let planned = (client..all)
                .step_by(CLIENTS as usize)
                .map(move |number| start + Duration::from_secs_f64(f64::from(number) / rate));
            std::thread::spawn(move || answers(&host, &request, planned))
        })
        .collect();
    let mut taken = Vec::new();
    for client in clients {
        taken.extend(client.join().map_err(|_panic| "a client broke")??);
    }
    taken.sort();
    let at =
        |part: usize| taken.get(taken.len() * part / 100).map_or(f64::NAN, |one| one.as_secs_f64() * 1e3);
    println!("p50 {:.2} ms, p99 {:.2} ms", at(50), at(99));
    Ok(())
}

fn answers(
    host: &str,
    request: &str,
    planned: impl Iterator<Item = Instant>,
) -> Result<Vec<Duration>, String> {
    let broken = |error: std::io::Error| format!("{host}: {error}");
    let mut stream = TcpStream::connect(host).map_err(broken)?;
    stream.set_nodelay(true).map_err(broken)?;
    let mut reader = BufReader::new(stream.try_clone().map_err(broken)?);
    let mut taken = Vec::new();
    for moment in planned {
        std::thread::sleep(moment.saturating_duration_since(Instant::now()));
        stream.write_all(request.as_bytes()).map_err(broken)?;
        read(&mut reader)?;
        taken.push(moment.elapsed());
    }
    Ok(taken)
}

/// Reads one answer to its end.
fn read(reader: &mut impl BufRead) -> Result<(), String> {
    let mut length = 0_u64;
    for number in 0.. {
        let mut line = String::new();
        reader.read_line(&mut line).map_err(|error| error.to_string())?;
        if number == 0 && !line.starts_with("HTTP/1.1 200") {
            return Err(format!("answered {}", line.trim()));
        }
        if let Some(told) = line.to_ascii_lowercase().strip_prefix("content-length:") {
            length = told.trim().parse().map_err(|_error| format!("{told} is no length"))?;
        }
        if line.trim().is_empty() {
            break;
        }
    }
    let read = std::io::copy(&mut reader.take(length), &mut std::io::sink());
    match read.map_err(|error| error.to_string())? == length && length > 0 {
        true => Ok(()),
        false => Err("an answer was cut short".into()),
    }
}
