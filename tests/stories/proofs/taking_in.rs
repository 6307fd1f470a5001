//! A photo comes in: every kind and every orientation becomes one upright JPEG in three sizes without metadata.

use tympan_raster::jpeg::{self, Turn};

use super::*;
use crate::on_both;
use crate::stories::rows;
use crate::studio::world::*;

/// Root of the mean squared difference over all samples.
fn distance(one: &image::RgbImage, other: &image::RgbImage) -> f64 {
    assert_eq!(one.dimensions(), other.dimensions());
    let squares: i64 =
        one.iter().zip(other.iter()).map(|(a, b)| (i64::from(*a) - i64::from(*b)).pow(2)).sum();
    (squares as f64 / one.len() as f64).sqrt()
}

fn pixels(bytes: &[u8]) -> image::RgbImage {
    image::load_from_memory(bytes).unwrap().to_rgb8()
}

/// Frame size and the markers before the scan, read by the letter of ITU-T T.81, tables B.1 and B.2.
fn frame(jpeg: &[u8]) -> ((u32, u32), Vec<u8>) {
    assert_eq!(&jpeg[..2], [0xFF, 0xD8]);
    let be16 = |at: usize| u32::from(u16::from_be_bytes([jpeg[at], jpeg[at + 1]]));
    let (mut at, mut size, mut markers) = (2, (0, 0), Vec::new());
    loop {
        assert_eq!(jpeg[at], 0xFF);
        let marker = jpeg[at + 1];
        markers.push(marker);
        if (0xC0..=0xC2).contains(&marker) {
            size = (be16(at + 7), be16(at + 5));
        }
        if marker == 0xDA {
            return (size, markers);
        }
        at += 2 + usize::try_from(be16(at + 2)).unwrap();
    }
}

/// JFIF header, tables, one frame, the scan: no EXIF, XMP, IPTC, profile or comment segment.
fn assert_bare(jpeg: &[u8], what: &str) {
    let (_, markers) = frame(jpeg);
    assert!(
        markers.iter().all(|marker| [0xE0, 0xDB, 0xC0, 0xC4, 0xDA].contains(marker)),
        "{what}: {markers:x?}"
    );
    for word in ["Exif", "GPS", "http://ns.adobe.com", "Photoshop", "ICC_PROFILE", "Invented", "A. Person"] {
        assert!(!jpeg.windows(word.len()).any(|bytes| bytes == word.as_bytes()), "{what} keeps {word}");
    }
}

/// A phone's picture, larger than the copies.
fn large() -> Vec<u8> {
    let rgb: Vec<u8> = (0..1500_u32)
        .flat_map(|y| {
            (0..2000_u32).flat_map(move |x| [u8::try_from(x / 8).unwrap(), u8::try_from(y / 6).unwrap(), 90])
        })
        .collect();
    jpeg::write(&rgb, (2000, 1500), Turn::default(), 90).unwrap()
}

on_both! {
    fn a_large_photo_comes_in_and_is_served_in_three_sizes(studio) {
        let things = bare_plate(studio);
        let student = studio.signed_in(STUDENT);
        let form = student.get(&format!("{}/new", proofs_path(studio, things.plate)));
        assert!(form.has("enctype=\"multipart/form-data\"") && form.has("accept=\"image/jpeg,image/png,image/webp\""));
        assert!(form.has("value=\"2026-10-20T10:00\""), "pulled just now: {}", form.text());
        let page = send(studio, &student, things.plate, &large());
        assert_eq!(page.status, 303, "{}", page.read());
        assert!(page.location().contains("done=done-proof-added"), "{}", page.location());
        let (id, photo) = kept(studio)[0];
        assert!(page.location().ends_with(&format!("#photo-{photo}")));
        for (size, pixels) in [("full", (2000, 1500)), ("1600", (1600, 1200)), ("320", (320, 240))] {
            let page = student.get(&photo_path(studio, photo, size));
            assert_eq!((page.status, page.headers["content-type"].as_str()), (200, "image/jpeg"));
            assert_eq!(frame(&page.body).0, pixels, "{size}");
        }
        let list = student.get(&proofs_path(studio, things.plate));
        assert!(list.has("width=\"320\" height=\"240\""), "the place is kept before the picture comes");
        assert!(list.has("alt=\"Proof 1: trial proof of “Stair lamp”, plate 1, pulled Tue"), "{}", list.text());
        assert!(list.has(&format!("id=\"proof-{id}\"")) && list.read().contains("rag paper, short ink"));
        let plate = student.get(&format!("{}/plates/{}", studio.class_path(), things.plate));
        assert!(plate.has(&photo_path(studio, photo, "320")), "on the plate's page");
        assert_eq!(rows(studio, "journal WHERE act = 'proof.added'"), 1);
    }

    fn all_orientations_and_kinds_come_out_upright_and_bare(studio) {
        let things = bare_plate(studio);
        let student = studio.signed_in(STUDENT);
        let upright = pixels(&file("upright.png"));
        let names = (1..=8).map(|code| format!("orientation-{code}.jpg"))
            .chain(["orientation-6.png", "orientation-6.webp", "upright.png"].map(String::from));
        for (place, name) in names.enumerate() {
            let received = file(&name);
            let page = send(studio, &student, things.plate, &received);
            assert_eq!(page.status, 303, "{name}: {}", page.read());
            let (_, photo) = kept(studio)[place];
            for size in ["full", "1600", "320"] {
                let served = student.get(&photo_path(studio, photo, size)).body;
                assert_bare(&served, &format!("{name}, {size}"));
                let far = distance(&pixels(&served), &upright);
                assert!(far < 9.0, "{name}, {size}: {far} from upright");
            }
            studio.later_ms(1000);
        }
        // Two pictures that lie differently are far apart, so a wrong turn would have been seen; and GPS was there.
        let turned = image::imageops::rotate180(&upright);
        assert!(distance(&turned, &upright) > 50.0);
        let given = file("orientation-6.jpg");
        assert!(given.windows(4).any(|bytes| bytes == b"Exif"));
    }

    fn a_photo_taken_just_now_comes_by_its_own_field(studio) {
        let things = bare_plate(studio);
        let student = studio.signed_in(STUDENT);
        let path = format!("{}/new", proofs_path(studio, things.plate));
        assert_eq!(student.upload(&path, &TOLD, ("camera", "image.jpg", &drawn(1))).status, 303);
        let again = student.upload(&path, &TOLD, ("camera", "image.jpg", b"<p>no picture"));
        assert_eq!(again.status, 422);
        assert!(again.has("id=\"proofs-new-camera-complaint\""), "{}", again.read());
    }

    fn the_same_picture_and_the_same_form_are_kept_once(studio) {
        let things = bare_plate(studio);
        let student = studio.signed_in(STUDENT);
        let path = format!("{}/new", proofs_path(studio, things.plate));
        let (seal, picture) = (student.seal(), drawn(1));
        let once = "0123456789abcdef0123";
        let first = student.upload_once(&seal, once, &path, &TOLD, ("file", "a.jpg", &picture));
        let second = student.upload_once(&seal, once, &path, &TOLD, ("file", "a.jpg", &picture));
        assert_eq!((first.status, second.status), (303, 303), "{}", second.read());
        assert_eq!(first.location(), second.location());
        let clash = student.upload_once(&seal, once, &path, &TOLD, ("file", "a.jpg", &drawn(2)));
        assert_eq!(clash.status, 422, "{}", clash.read());
        let same = send(studio, &student, things.plate, &picture);
        assert_eq!(same.status, 422);
        assert!(same.read().contains("already stored for this plate"), "{}", same.read());
        let (id, _) = kept(studio)[0];
        assert!(same.has(&format!("/proofs#proof-{id}\"")), "a link to it: {}", same.text());
        assert!(same.has("rag paper, short ink"), "what was typed stays");
        assert_eq!((kept(studio).len(), on_the_shelf(studio).len()), (1, 1));
        assert_eq!(send(studio, &student, second_plate(studio, &student, &things), &picture).status, 303, "another plate");
    }

    fn a_proof_is_taken_back_within_ten_minutes_and_by_the_instructor_at_any_time(studio) {
        let things = bare_plate(studio);
        let (student, instructor) = (studio.signed_in(STUDENT), studio.signed_in(INSTRUCTOR));
        send(studio, &student, things.plate, &drawn(1));
        let (first, photo) = kept(studio)[0];
        let remove = |id| format!("{}/proofs/{id}/remove", studio.class_path());
        assert_eq!(studio.signed_in(OTHER_STUDENT).post(&remove(first), &[]).status, 404);
        assert_eq!(student.post(&remove(first), &[]).status, 303);
        assert_eq!(student.get(&photo_path(studio, photo, "320")).status, 404, "no longer shown");
        assert_eq!(student.post(&remove(first), &[]).status, 404);
        assert_eq!(send(studio, &student, things.plate, &drawn(1)).status, 303, "it may come again");
        let (second, _) = kept(studio)[0];
        studio.later_ms(10 * 60_000 + 1);
        let late = student.post(&remove(second), &[]);
        assert_eq!(late.status, 409);
        assert!(late.read().contains("Ask your instructor"), "{}", late.read());
        assert_eq!(instructor.post(&remove(second), &[]).status, 303);
        assert!(kept(studio).is_empty());
        assert_eq!(rows(studio, "proof"), 2, "the rows stay");
    }
}
