//! What is no picture, or too large, gets a clear sentence, and nothing of it is stored.

use std::io::{Read, Write};
use std::net::TcpStream;

use super::*;
use crate::on_both;
use crate::stories::rows;
use crate::studio::world::*;

fn nothing_is_kept(studio: &Studio, what: &str) {
    assert_eq!((rows(studio, "photo"), rows(studio, "proof")), (0, 0), "{what}: rows");
    assert_eq!(on_the_shelf(studio), [""; 0], "{what}: files");
    assert_eq!(studio.house.darkroom.in_work(), (0, 0), "{what}: in work");
}

/// Begins an upload that says it will be `length` bytes, sends none of them, and reads the answer.
fn announce(studio: &Studio, visitor: &Visitor, path: &str, length: usize) -> String {
    let mut stream = TcpStream::connect(studio.base.trim_start_matches("http://")).unwrap();
    let head = format!(
        "POST {path} HTTP/1.1\r\nHost: studio\r\nConnection: close\r\nCookie: {}\r\nContent-Length: {length}\r\n\
         Content-Type: multipart/form-data; boundary=x\r\n\r\n",
        visitor.cookies(),
    );
    stream.write_all(head.as_bytes()).unwrap();
    stream.set_read_timeout(Some(std::time::Duration::from_secs(20))).unwrap();
    let mut answer = Vec::new();
    let mut piece = [0; 8192];
    // What matters has come once the page ends; the connection may be cut after it.
    while !answer.windows(7).any(|bytes| bytes == b"</html>") {
        match stream.read(&mut piece) {
            Ok(0) | Err(_) => break,
            Ok(count) => answer.extend_from_slice(&piece[..count]),
        }
    }
    String::from_utf8_lossy(&answer).into_owned()
}

on_both! {
    fn each_bad_picture_gets_its_own_sentence(studio) {
        let things = bare_plate(studio);
        let student = studio.signed_in(STUDENT);
        let mut heavy = file("whole.jpg");
        heavy.resize(25_000_001, 0);
        let mut heic = b"\0\0\0\x18ftypheic\0\0\0\0".to_vec();
        heic.resize(3000, 7);
        for (what, bytes, says) in [
            ("0 bytes", Vec::new(), "no content (0 bytes)"),
            ("cut short", file("cut-short.jpg"), "ends too early"),
            ("renamed HTML", file("page.jpg"), "not a picture"),
            ("bomb", file("bomb.png"), "60000 x 60000"),
            ("GIF", b"GIF89a\x01\0\x01\0\0\0\0;".to_vec(), "not taken here (GIF)"),
            ("HEIC", heic, "HEIC file"),
            ("CMYK", file("cmyk.jpg"), "printing colours"),
            ("heavy", heavy, "25.1 MB; at most 25 MB"),
        ] {
            let page = send(studio, &student, things.plate, &bytes);
            assert_eq!(page.status, 422, "{what}: {}", page.read());
            assert!(page.has("id=\"proofs-new-file-complaint\""), "{what} at its field");
            assert!(page.read().contains(says), "{what}: {}", page.read());
            assert!(page.has("rag paper, short ink") && page.has("value=\"2026-10-20T09:30\""), "{what}: typed stays");
            nothing_is_kept(studio, what);
        }
    }

    fn what_was_typed_stays_beside_a_photo_of_any_size(studio) {
        let things = bare_plate(studio);
        let student = studio.signed_in(STUDENT);
        for (bytes, status) in [(25_000_001, 422), (27_000_000, 413), (50_000_000, 413)] {
            let page = send(studio, &student, things.plate, &vec![0xff; bytes]);
            assert_eq!(page.status, status, "{bytes}: {}", page.read());
            assert!(page.has("rag paper, short ink") && page.has("value=\"2026-10-20T09:30\""), "{bytes}: {}", page.read());
            assert!(page.has("id=\"proofs-new-file-complaint\""), "{bytes} at its field");
            nothing_is_kept(studio, "of any size");
        }
    }

    fn each_bad_field_is_told_beside_the_photo(studio) {
        let things = bare_plate(studio);
        let student = studio.signed_in(STUDENT);
        let path = format!("{}/new", proofs_path(studio, things.plate));
        let long = "x".repeat(501);
        for (field, value, says) in [
            ("kind", "", "missing"), ("kind", "sketch", "not one of the choices"),
            ("pulled", "", "missing"), ("pulled", "yesterday", "no day and time"),
            ("pulled", "2026-10-20T10:01", "ahead of now"),
            ("note", long.as_str(), "501 characters"), ("note", "a\u{7}b", "control characters"),
        ] {
            let fields = crate::stories::but(&TOLD, field, value);
            let page = student.upload(&path, &fields, ("file", "photo.jpg", &file("whole.jpg")));
            assert_eq!(page.status, 422, "{field}={value}");
            assert!(page.has(&format!("id=\"proofs-new-{field}-complaint\"")), "{field}={value}: {}", page.read());
            assert!(page.read().contains(says), "{field}={value}: {}", page.read());
            nothing_is_kept(studio, field);
        }
        let none = student.post(&path, &TOLD);
        assert_eq!(none.status, 422);
        assert!(none.read().contains("There is no photo yet"), "{}", none.read());
        let unused = student.upload(&path, &TOLD, ("file", "", b""));
        assert!(unused.read().contains("There is no photo yet"), "{}", unused.read());
        let two = student.upload(&path, &[&TOLD[..], &[("kind", "\u{7}")]].concat(), ("file", "p.jpg", b"no picture"));
        assert!(two.read().contains("not a picture"), "{}", two.read());
        nothing_is_kept(studio, "no photo");
    }

    fn too_long_a_body_and_no_right_are_refused_before_it_is_read(studio) {
        let things = bare_plate(studio);
        let path = format!("{}/new", proofs_path(studio, things.plate));
        let student = studio.signed_in(STUDENT);
        let answer = announce(studio, &student, &path, 26_000_000);
        assert!(answer.starts_with("HTTP/1.1 413"), "{answer}");
        assert!(answer.contains("26.0 MB; at most 25 MB"), "{answer}");
        for (email, status) in [(OTHER_STUDENT, "404"), (STRANGER, "404"), (ASSISTANT, "403"), (RECORDS, "403")] {
            let answer = announce(studio, &studio.signed_in(email), &path, 5_000_000);
            assert!(answer.starts_with(&format!("HTTP/1.1 {status}")), "{email}: {answer}");
        }
        let nobody = announce(studio, &studio.visitor(), &path, 5_000_000);
        assert!(nobody.starts_with("HTTP/1.1 401"), "{nobody}");
        nothing_is_kept(studio, "announced");
        let page = student.upload_sealed("wrong", &path, &TOLD, ("file", "p.jpg", &file("whole.jpg")));
        assert_eq!(page.status, 403, "{}", page.read());
        nothing_is_kept(studio, "unsealed");
    }

    fn one_address_may_send_two_hundred_and_then_waits(studio) {
        let things = bare_plate(studio);
        let student = studio.signed_in(STUDENT);
        let path = format!("{}/new", proofs_path(studio, things.plate));
        let refused = (0..260).map(|_| student.post(&path, &TOLD).status).position(|status| status == 429);
        assert!(refused.is_some_and(|at| at >= 200), "{refused:?}");
    }
}
