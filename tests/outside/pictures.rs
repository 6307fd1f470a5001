//! Photos made by other tools, read by ours. How each file was made stands in `tests/pictures/README.txt`.

use std::path::Path;
use std::time::Duration;

use tympan::photos::budget::{Gate, HOUSE};
use tympan::photos::picture::{PictureFault, Prepared, prepare, prepare_within};

fn file(name: &str) -> Vec<u8> {
    std::fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/pictures").join(name)).unwrap()
}

fn pixels(jpeg_or_png: &[u8]) -> image::RgbImage {
    image::load_from_memory(jpeg_or_png).unwrap().to_rgb8()
}

/// The mean of a 9 x 9 field, which evens out what JPEG did to single pixels.
fn field(picture: &image::RgbImage, x: u32, y: u32) -> [i32; 3] {
    let mut sums = [0; 3];
    for (dx, dy) in (0..9).flat_map(|dx| (0..9).map(move |dy| (dx, dy))) {
        let pixel = picture.get_pixel(x + dx - 4, y + dy - 4);
        (0..3).for_each(|channel| sums[channel] += i32::from(pixel[channel]));
    }
    sums.map(|sum| (sum + 40) / 81)
}

fn assert_near(found: [i32; 3], wanted: [i32; 3], within: i32, what: &str) {
    let far = (0..3).any(|channel| (found[channel] - wanted[channel]).abs() > within);
    assert!(!far, "{what}: found {found:?}, wanted {wanted:?} within {within}");
}

/// Root of the mean squared difference over all samples.
fn distance(one: &image::RgbImage, other: &image::RgbImage) -> f64 {
    assert_eq!(one.dimensions(), other.dimensions());
    let squares: i64 =
        one.iter().zip(other.iter()).map(|(a, b)| (i64::from(*a) - i64::from(*b)).pow(2)).sum();
    (squares as f64 / one.len() as f64).sqrt()
}

/// Every marker before the scan, in order (ITU-T T.81 table B.1).
fn markers(jpeg: &[u8]) -> Vec<u8> {
    let (mut at, mut found) = (2, Vec::new());
    loop {
        assert_eq!(jpeg[at], 0xFF);
        found.push(jpeg[at + 1]);
        if jpeg[at + 1] == 0xDA {
            return found;
        }
        at += 2 + usize::from(u16::from_be_bytes([jpeg[at + 2], jpeg[at + 3]]));
    }
}

fn assert_bare(prepared: &Prepared, what: &str) {
    for jpeg in [&prepared.full, &prepared.large_1600, &prepared.small_320] {
        // JFIF header, quantisation, one baseline frame, Huffman tables, scan: no other APPn, no comment.
        assert!(markers(jpeg).iter().all(|marker| [0xE0, 0xDB, 0xC0, 0xC4, 0xDA].contains(marker)), "{what}");
        for word in
            ["Exif", "ICC_PROFILE", "http://ns.adobe.com", "Photoshop", "Invented", "private", "Person"]
        {
            assert!(!jpeg.windows(word.len()).any(|bytes| bytes == word.as_bytes()), "{what} keeps {word}");
        }
        assert!(jpeg.ends_with(&[0xFF, 0xD9]), "{what}");
    }
}

#[test]
fn all_eight_orientations_are_one_upright_picture_without_metadata() {
    let upright = pixels(&file("upright.png"));
    let mirrored = image::imageops::flip_horizontal(&upright);
    assert!(distance(&mirrored, &upright) > 50.0, "the picture tells its sides apart");
    let received = (1..=8).map(|code| format!("orientation-{code}.jpg"));
    for name in
        received.chain(["orientation-6.png", "orientation-6.webp", "progressive.jpg"].map(String::from))
    {
        let prepared = prepare(&file(&name)).unwrap();
        assert_eq!((prepared.width, prepared.height), (96, 64), "{name}");
        // Two generations of JPEG, the 1600 copy with halved colours; a wrong turn lies far beyond.
        let (full, large) = (pixels(&prepared.full), pixels(&prepared.large_1600));
        assert!(distance(&full, &upright) < 3.0, "{name}: {}", distance(&full, &upright));
        assert!(distance(&large, &upright) < 7.0, "{name}: {}", distance(&large, &upright));
        assert_bare(&prepared, &name);
    }
    // The fixtures do hold what must go.
    let given = file("orientation-6.jpg");
    for word in ["Exif", "http://ns.adobe.com", "Photoshop", "Invented", "A. Person"] {
        assert!(given.windows(word.len()).any(|bytes| bytes == word.as_bytes()), "{word}");
    }
}

/// Expected values: Pillow 13.0.0 ImageCms (Little CMS 2.19), relative colorimetric, the file's own profile to
/// sRGB: (255,0,3), (100,182,76), (255,0,0). By hand from the primaries of SMPTE EG 432-1 with D65 and the curve of
/// IEC 61966-2-1, clipped: (255,0,0), (99.99,181.99,76.23), (255,0,0).
#[test]
fn display_p3_becomes_the_right_srgb() {
    for name in ["display-p3.jpg", "display-p3.webp"] {
        let prepared = prepare(&file(name)).unwrap();
        let picture = pixels(&prepared.full);
        assert_near(field(&picture, 16, 16), [255, 0, 1], 3, name);
        assert_near(field(&picture, 48, 16), [100, 182, 76], 2, name);
        assert_near(field(&picture, 80, 16), [255, 0, 0], 3, name);
        assert_bare(&prepared, name);
        // Dropping the profile alone would leave (120,180,90).
        let dull = pixels(&file("display-p3.jpg"));
        assert_near(field(&dull, 48, 16), [120, 180, 90], 2, "as received");
    }
}

#[test]
fn depth_grey_and_transparency() {
    let ramp = pixels(&prepare(&file("sixteen-bit.png")).unwrap().full);
    for x in [4, 64, 128, 200, 251] {
        let value = i32::try_from(x).unwrap();
        assert_near(field(&ramp, x, 8), [value; 3], 3, "16 bits");
    }
    let grey = file("grey.png");
    let wanted = pixels(&grey);
    let found = prepare(&grey).unwrap();
    assert!(distance(&pixels(&found.full), &wanted) < 3.0);
    // Half-transparent (200,40,40) on white is (228,148,148); nothing on white is white.
    for name in ["alpha.webp", "alpha-lossy.webp"] {
        let picture = pixels(&prepare(&file(name)).unwrap().full);
        assert_near(field(&picture, 12, 24), [228, 148, 148], 4, name);
        assert_near(field(&picture, 40, 24), [255, 255, 255], 4, name);
        assert_near(field(&picture, 58, 24), [20, 60, 120], 6, name);
    }
}

#[test]
fn what_is_no_picture_is_refused_by_its_own_name() {
    let refused = |name: &str| prepare(&file(name)).unwrap_err();
    assert_eq!(prepare(&[]).unwrap_err(), PictureFault::Empty);
    assert_eq!(refused("page.jpg"), PictureFault::NotAPicture);
    assert_eq!(refused("cmyk.jpg"), PictureFault::Cmyk);
    assert_eq!(refused("cut-short.jpg"), PictureFault::CutShort);
    assert_eq!(refused("bomb.png"), PictureFault::TooLarge { width: 60_000, height: 60_000 });
    assert_eq!(prepare(&vec![0xFF; 25_000_001]).unwrap_err(), PictureFault::TooHeavy { bytes: 25_000_001 });
}

/// Wherever a file is cut, it is refused: never stored with a grey half.
#[test]
fn a_file_cut_anywhere_is_refused() {
    for name in
        ["whole.jpg", "progressive.jpg", "orientation-6.png", "orientation-6.webp", "alpha-lossy.webp"]
    {
        let whole = file(name);
        prepare(&whole).unwrap();
        // PNG: the picture is whole once its last data chunk is; the 12 bytes of IEND may be missing.
        let end = if name.ends_with("png") { whole.len() - 13 } else { whole.len() - 1 };
        for cut in (0..=40).map(|part| end * part / 40) {
            assert!(prepare(&whole[..cut]).is_err(), "{name} cut after {cut} of {} bytes", whole.len());
        }
    }
}

/// Bytes changed at random must end in a picture or a fault, never in a panic.
#[test]
fn flipped_bytes_never_panic() {
    let mut state = 0x9E37_79B9_7F4A_7C15_u64;
    let mut random = move |below: usize| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(state >> 33).unwrap() % below
    };
    let names =
        ["orientation-6.jpg", "progressive.jpg", "display-p3.jpg", "display-p3.webp", "alpha-lossy.webp"];
    for name in names.into_iter().chain(["orientation-6.png", "sixteen-bit.png", "grey.png", "alpha.webp"]) {
        let whole = file(name);
        for _ in 0..60 {
            let mut broken = whole.clone();
            for _ in 0..=random(6) {
                let at = random(broken.len());
                broken[at] = u8::try_from(random(256)).unwrap();
            }
            if let Ok(prepared) = prepare(&broken) {
                assert!(prepared.small_320.starts_with(&[0xFF, 0xD8]), "{name}");
            }
        }
    }
}

/// Memory is read from the system in a process that does nothing else.
#[cfg(target_os = "linux")]
mod memory {
    use super::*;

    const INSIDE: &str = "TYMPAN_TEST_ALONE";

    /// Runs `work` of the named test in a process of its own.
    fn alone(test: &str, work: impl FnOnce()) {
        if std::env::var_os(INSIDE).is_some() {
            return work();
        }
        let name = format!("outside::pictures::memory::{test}");
        let run = std::process::Command::new(std::env::current_exe().unwrap())
            .args(["--exact", &name, "--nocapture"])
            .env(INSIDE, "1")
            .output()
            .unwrap();
        let said = String::from_utf8_lossy(&run.stdout).into_owned() + &String::from_utf8_lossy(&run.stderr);
        assert!(run.status.success() && said.contains("1 passed"), "{said}");
        said.lines().filter(|line| line.contains("peak")).for_each(|line| println!("{line}"));
    }

    /// The most memory this process ever held, in MiB.
    fn peak_mib() -> f64 {
        let status = std::fs::read_to_string("/proc/self/status").unwrap();
        let line = status.lines().find(|line| line.starts_with("VmHWM:")).unwrap();
        line.split_whitespace().nth(1).unwrap().parse::<f64>().unwrap() / 1024.0
    }

    /// A photo of noise and tone with an EXIF orientation: an APP1 segment of our own after the JFIF header.
    fn photo(width: u32, height: u32, orientation: u8) -> Vec<u8> {
        let mut state = 1_u32;
        let pixels: Vec<u8> = (0..width * height * 3)
            .map(|at| {
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                u8::try_from(((at / 3 / width) * 150 / height) + (state >> 28)).unwrap()
            })
            .collect();
        let plain = tympan_raster::jpeg::write(&pixels, (width, height), Default::default(), 89).unwrap();
        let mut jpeg = plain[..20].to_vec();
        jpeg.extend_from_slice(b"\xFF\xE1\x00\x22Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0");
        jpeg.extend_from_slice(&[orientation, 0, 0, 0, 0, 0, 0]);
        jpeg.extend_from_slice(&plain[20..]);
        jpeg
    }

    #[test]
    fn refusing_a_bomb_takes_no_memory() {
        alone("refusing_a_bomb_takes_no_memory", || {
            let bomb = file("bomb.png");
            // Brings the code itself into memory.
            prepare(&file("orientation-6.png")).unwrap();
            prepare(&file("page.jpg")).unwrap_err();
            let before = peak_mib();
            assert_eq!(prepare(&bomb).unwrap_err(), PictureFault::TooLarge { width: 60_000, height: 60_000 });
            assert!(peak_mib() - before < 2.0, "from {before} to {} MiB", peak_mib());
        });
    }

    /// Four photos of 12 megapixels at once stay below 200 MiB, because two wait.
    #[test]
    fn four_photos_at_once_stay_below_200_mib() {
        alone("four_photos_at_once_stay_below_200_mib", || {
            let photo = photo(4000, 3000, 6);
            std::fs::write("/proc/self/clear_refs", "5").unwrap();
            let gate = Gate::new(HOUSE);
            std::thread::scope(|scope| {
                for _ in 0..4 {
                    scope.spawn(|| {
                        let prepared = prepare_within(&photo, &gate, Duration::from_secs(60)).unwrap();
                        assert_eq!((prepared.width, prepared.height), (3000, 4000));
                    });
                }
            });
            println!("four photos at once: peak {:.0} MiB", peak_mib());
            assert!(peak_mib() < 200.0, "{} MiB", peak_mib());
        });
    }

    /// One turned photo of 50 megapixels stays below 400 MiB.
    #[test]
    fn the_largest_photo_stays_below_400_mib() {
        alone("the_largest_photo_stays_below_400_mib", || {
            let photo = photo(8000, 6250, 8);
            std::fs::write("/proc/self/clear_refs", "5").unwrap();
            let prepared = prepare_within(&photo, &Gate::new(HOUSE), Duration::from_secs(1)).unwrap();
            assert_eq!((prepared.width, prepared.height), (6250, 8000));
            println!("50 megapixels, turned: peak {:.0} MiB", peak_mib());
            assert!(peak_mib() < 400.0, "{} MiB", peak_mib());
        });
    }
}
