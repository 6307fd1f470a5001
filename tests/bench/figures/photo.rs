//! A photo of twelve megapixels, lying on its side as a telephone sends it: read, turned upright, written in three sizes
//! and kept through a power cut; beside `vipsthumbnail`, one thread, making the two smaller sizes alone.

use std::path::Path;
use std::process::Command;
use std::sync::Arc;
use std::time::Instant;

use image::{Rgb, RgbImage};
use tympan::ids::{Id, Photo};
use tympan::photos::darkroom::Darkroom;
use tympan::photos::shelf::PhotoKey;
use tympan::store::connections::Address;
use tympan_raster::jpeg::{Quality, Turn, write};

use crate::figure::{Bench, Taken};
use crate::load::median;
use crate::school::folder;
use crate::serving::settings;
use crate::world::NOW;

const WIDTH: u32 = 4000;
const HEIGHT: u32 = 3000;

pub fn take(bench: &Bench) -> Result<Taken, String> {
    if Command::new("vipsthumbnail").arg("--version").output().is_err() {
        return Err("vipsthumbnail is missing: on Debian, apt-get install libvips-tools".into());
    }
    let received = received()?;
    let path = folder().join("photo.jpg");
    std::fs::write(&path, &received).map_err(|error| error.to_string())?;
    let darkroom = Arc::new(
        Darkroom::open(&settings(&Address::Sqlite(folder().join("no.db"))))
            .map_err(|trouble| format!("{trouble:?}"))?,
    );
    let (mut own, mut bare) = (Vec::new(), Vec::new());
    for pair in 0..=bench.options.pairs.min(7) {
        let (one, other) = (keep(&darkroom, received.clone())?, thumbnails(&path)?);
        // The first of each warms files and memory.
        if pair > 0 {
            own.push(one);
            bare.push(other);
        }
    }
    let values = own.iter().zip(&bare).map(|(own, bare)| own / bare).collect();
    let levels = format!("{:.0} ms; floor {:.0} ms", median(&own), median(&bare));
    let notes =
        vec![format!("{WIDTH} × {HEIGHT} pixels, {} KiB, turned by a quarter", received.len() / 1024)];
    Ok(Taken { values, levels, notes })
}

/// Soft tones with grain, as a photo of a print has them, with the mark that it lies on its side (Exif 2.32, orientation 6).
fn received() -> Result<Vec<u8>, String> {
    let mut grain = 1_u32;
    let picture = RgbImage::from_fn(WIDTH, HEIGHT, |x, y| {
        grain = grain.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        let tone = (f64::from(x) / 190.0).sin() * 50.0 + (f64::from(y) / 130.0).cos() * 50.0;
        let value = 128.0 + tone + f64::from(grain >> 28) - 8.0;
        let value = value.clamp(0.0, 255.0) as u8;
        Rgb([value, value.saturating_sub(8), value.saturating_sub(20)])
    });
    // Colours halved both ways, as telephones write them.
    let quality = Quality { of_100: 90, halve_colours: true };
    let jpeg = write(&picture, (WIDTH, HEIGHT), Turn::default(), quality)
        .map_err(|_misfit| "the photo cannot be written")?;
    let exif = b"Exif\0\0MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x06\0\0\0\0\0\0";
    let length = u16::try_from(exif.len() + 2).map_err(|error| error.to_string())?;
    let mut sent = jpeg[..2].to_vec();
    sent.extend([0xff, 0xe1]);
    sent.extend(length.to_be_bytes());
    sent.extend(exif);
    sent.extend(&jpeg[2..]);
    Ok(sent)
}

/// Milliseconds from the received bytes to three files on the shelf.
fn keep(darkroom: &Arc<Darkroom>, received: Vec<u8>) -> Result<f64, String> {
    let key: PhotoKey = Id::<Photo>::new(NOW).to_string().parse().map_err(|fault| format!("{fault:?}"))?;
    let darkroom = darkroom.clone();
    let began = Instant::now();
    let (width, height) = actix_web::rt::System::new().block_on(async move {
        let prepared = darkroom.prepare(received).await.map_err(|trouble| format!("{trouble:?}"))?;
        let prepared = prepared.map_err(|fault| format!("{fault:?}"))?;
        let size = (prepared.width, prepared.height);
        darkroom.put(key, prepared).await.map_err(|trouble| format!("{trouble:?}"))?;
        Ok::<_, String>(size)
    })?;
    let took = began.elapsed().as_secs_f64() * 1000.0;
    if (width, height) != (HEIGHT, WIDTH) {
        return Err(format!("the photo was kept as {width} × {height}, not upright"));
    }
    Ok(took)
}

/// Milliseconds for both smaller sizes, each by a program of its own.
fn thumbnails(path: &Path) -> Result<f64, String> {
    let began = Instant::now();
    for size in ["1600", "320"] {
        let done = Command::new("vipsthumbnail")
            .env("VIPS_CONCURRENCY", "1")
            .arg(path)
            .args(["--size", size, "-o", &format!("thumbnail-{size}.jpg[Q=85]")])
            .output()
            .map_err(|error| error.to_string())?;
        if !done.status.success() {
            return Err(String::from_utf8_lossy(&done.stderr).into_owned());
        }
    }
    Ok(began.elapsed().as_secs_f64() * 1000.0)
}
