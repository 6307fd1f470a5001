//! Archives that were packed to do harm, put to the commands that open one.

use std::io::{Cursor, Write};

use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

use super::archive::{made, order, replaced, set};
use crate::on_both;
use crate::stories::{rows, running};
use crate::studio::Studio;

on_both! {
    /// Bombs, names that lead elsewhere and lies about sizes: both commands leave with 2 and one sentence, and nothing is
    /// written, neither outside nor into the data folder, the shelf or the record.
    fn an_archive_that_leads_elsewhere_or_swells_is_refused_by_both_commands(studio) {
        set(studio);
        studio.later_ms(1_000);
        let bytes = made(studio, &order(None, Some("LIT-B")));
        let folder = tempfile::tempdir().unwrap();
        let elsewhere = folder.path().join("elsewhere").join("pwned.txt");
        let added = |name: &str, body: &[u8]| {
            let mut out = ZipWriter::new_append(Cursor::new(bytes.clone())).unwrap();
            out.start_file(name, SimpleFileOptions::default().compression_method(CompressionMethod::Deflated)).unwrap();
            out.write_all(body).unwrap();
            out.finish().unwrap().into_inner()
        };
        let link = {
            let mut out = ZipWriter::new_append(Cursor::new(bytes.clone())).unwrap();
            out.add_symlink("images/out", "/etc", SimpleFileOptions::default()).unwrap();
            out.finish().unwrap().into_inner()
        };
        let swollen = added("data/swollen.jsonl", &vec![b' '; 64 << 20]);
        let cases = [
            ("names its parent", added("../pwned.txt", b"x"), "leads out of the zip file by “..”"),
            ("names its parent within", added("images/../../pwned.txt", b"x"), "leads out of the zip file by “..”"),
            ("backwards", added("images\\..\\..\\pwned.txt", b"x"), "leads out of the zip file by “..”"),
            ("absolute", added(elsewhere.to_str().unwrap(), b"x"), "names a place outside the zip file"),
            ("a drive", added("C:\\pwned.txt", b"x"), "names a place outside the zip file"),
            ("a link", link, "link"),
            ("a bomb", swollen, "says it unpacks to more than three hundred times its size"),
            ("lies about its size", shorter(&added("data/more.jsonl", &[b'x'; 4_000])), "data/more.jsonl"),
        ];
        for (what, odd, sentence) in &cases {
            let path = folder.path().join("odd.zip");
            std::fs::write(&path, odd).unwrap();
            let other = Studio::open_empty(studio.engine());
            let file = path.to_str().unwrap();
            for words in [&["check", file][..], &["restore", "--from", file, "--keeper", "new@keeper.example"]] {
                let done = running::tympan(&other, words);
                let (code, said) = running::said(&done);
                assert_eq!(code, Some(2), "{what} {words:?}: {said}");
                assert!(said.contains(sentence) && said.starts_with(file), "{what} {words:?}: {said}");
                assert_eq!(said.trim_end().lines().count(), 1, "{what} {words:?}: one sentence: {said}");
                assert!(done.stdout.is_empty(), "{what} {words:?}");
            }
            for table in ["person", "school", "photo", "journal_detail"] {
                assert_eq!(rows(&other, table), 0, "{what}: {table}");
            }
            for of in [other.house.settings.photos.clone(), other.house.settings.data.join("papers")] {
                assert_eq!(std::fs::read_dir(&of).map_or(0, Iterator::count), 0, "{what}: {of:?}");
            }
        }
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1, "nothing lies beside the archive");
        assert!(!std::path::Path::new("/pwned.txt").exists());
    }
}

/// The last file of a zip file says, in directory and header, that it is a byte shorter than it is.
fn shorter(bytes: &[u8]) -> Vec<u8> {
    replaced(bytes, &4_000_u32.to_le_bytes(), &3_999_u32.to_le_bytes())
}
