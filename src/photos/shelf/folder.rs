//! A shelf in a folder: `<photo id>/full.jpg, 1600.jpg, 320.jpg`, readable by the program's user alone.

use std::fs::{self, DirBuilder, File, OpenOptions};
use std::io::{self, ErrorKind, Write as _};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::UNIX_EPOCH;

use super::{PhotoKey, Shelf, ShelfFault, Size};
use crate::photos::picture::Prepared;

/// Photos under one folder of this machine.
#[derive(Debug)]
pub struct FolderShelf {
    root: PathBuf,
    /// Tells apart two writes of the same file in this process.
    writes: AtomicU64,
}

impl FolderShelf {
    /// Opens the shelf, making its folder when it is not there.
    ///
    /// # Errors
    /// The folder can be neither found nor made.
    pub fn open(root: impl Into<PathBuf>) -> Result<Self, ShelfFault> {
        let root = root.into();
        make_folder(&root, true).map_err(|cause| failed("make the folder", &root, cause))?;
        Ok(Self { root, writes: AtomicU64::new(0) })
    }

    fn folder(&self, key: PhotoKey) -> PathBuf {
        self.root.join(key.to_string())
    }

    /// Writes the bytes beside their final place and onto the disk.
    fn write_aside(&self, folder: &Path, size: Size, bytes: &[u8]) -> Result<PathBuf, ShelfFault> {
        let write = self.writes.fetch_add(1, Ordering::Relaxed);
        let aside = folder.join(format!("{}.{}-{write}.part", size.file_name(), std::process::id()));
        let done = new_file(&aside).and_then(|mut file| {
            file.write_all(bytes)?;
            file.sync_all()
        });
        match done {
            Ok(()) => Ok(aside),
            Err(cause) => {
                // A full disk must not keep the half-written file as well; the first failure is what is told.
                let _ = fs::remove_file(&aside);
                Err(failed("write", &aside, cause))
            }
        }
    }
}

impl Shelf for FolderShelf {
    fn put(&self, key: PhotoKey, prepared: &Prepared) -> Result<(), ShelfFault> {
        let folder = self.folder(key);
        make_folder(&folder, false).map_err(|cause| failed("make the folder", &folder, cause))?;
        let mut written = Vec::with_capacity(Size::ALL.len());
        for size in Size::ALL {
            match self.write_aside(&folder, size, size.of(prepared)) {
                Ok(aside) => written.push((aside, folder.join(size.file_name()))),
                Err(fault) => {
                    for (aside, _) in written {
                        let _ = fs::remove_file(aside);
                    }
                    // Goes only when nothing else lies in it.
                    let _ = fs::remove_dir(&folder);
                    return Err(fault);
                }
            }
        }
        for (aside, place) in written {
            fs::rename(&aside, &place).map_err(|cause| failed("rename to", &place, cause))?;
        }
        sync_folder(&folder)?;
        sync_folder(&self.root)
    }

    fn get(&self, key: PhotoKey, size: Size) -> Result<Vec<u8>, ShelfFault> {
        let place = self.folder(key).join(size.file_name());
        fs::read(&place).map_err(|cause| match cause.kind() {
            ErrorKind::NotFound => ShelfFault::NotThere,
            _ => failed("read", &place, cause),
        })
    }

    fn holds(&self, key: PhotoKey, size: Size) -> Result<bool, ShelfFault> {
        let place = self.folder(key).join(size.file_name());
        match fs::metadata(&place) {
            Ok(about) => Ok(about.is_file()),
            Err(cause) if cause.kind() == ErrorKind::NotFound => Ok(false),
            Err(cause) => Err(failed("look for", &place, cause)),
        }
    }

    fn delete(&self, key: PhotoKey) -> Result<(), ShelfFault> {
        let folder = self.folder(key);
        match fs::remove_dir_all(&folder) {
            Err(cause) if cause.kind() != ErrorKind::NotFound => Err(failed("remove", &folder, cause)),
            _ => sync_folder(&self.root),
        }
    }

    fn older_than(&self, before_ms: i64) -> Result<Vec<PhotoKey>, ShelfFault> {
        let refused = |cause| failed("list", &self.root, cause);
        let mut keys = Vec::new();
        for entry in fs::read_dir(&self.root).map_err(refused)? {
            let entry = entry.map_err(refused)?;
            // Other files are none of our business.
            let Some(key) = entry.file_name().to_str().and_then(|name| name.parse().ok()) else { continue };
            match entry.metadata() {
                Ok(about) if about.is_dir() && changed_ms(&about).map_err(refused)? < before_ms => {
                    keys.push(key)
                }
                Ok(_) => {}
                // Deleted while we looked.
                Err(cause) if cause.kind() == ErrorKind::NotFound => {}
                Err(cause) => return Err(refused(cause)),
            }
        }
        keys.sort_unstable();
        Ok(keys)
    }
}

/// When the folder last changed: renaming a file into it is the last step of a put.
fn changed_ms(about: &fs::Metadata) -> io::Result<i64> {
    let changed = about.modified()?;
    let since = |span: std::time::Duration| i64::try_from(span.as_millis()).unwrap_or(i64::MAX);
    Ok(match changed.duration_since(UNIX_EPOCH) {
        Ok(after) => since(after),
        Err(before) => -since(before.duration()),
    })
}

fn make_folder(folder: &Path, with_parents: bool) -> io::Result<()> {
    let mut builder = DirBuilder::new();
    builder.recursive(with_parents);
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    match builder.create(folder) {
        Err(cause) if cause.kind() == ErrorKind::AlreadyExists && folder.is_dir() => Ok(()),
        other => other,
    }
}

fn new_file(place: &Path) -> io::Result<File> {
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    options.open(place)
}

/// A rename survives a power cut only once its folder is on the disk too.
fn sync_folder(folder: &Path) -> Result<(), ShelfFault> {
    File::open(folder).and_then(|folder| folder.sync_all()).map_err(|cause| failed("sync", folder, cause))
}

fn failed(tried: &'static str, place: &Path, cause: io::Error) -> ShelfFault {
    ShelfFault::Storage { tried, place: place.to_owned(), cause }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn prepared(mark: u8) -> Prepared {
        Prepared {
            full: vec![mark; 3000],
            large_1600: vec![mark; 200],
            small_320: vec![mark; 10],
            width: 3,
            height: 2,
            sha256: [mark; 32],
        }
    }

    fn key(last: char) -> PhotoKey {
        format!("0190a0b0-0000-7000-8000-00000000000{last}").parse().unwrap()
    }

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn what_is_put_can_be_got_replaced_and_deleted() {
        let folder = tempfile::tempdir().unwrap();
        let shelf = FolderShelf::open(folder.path().join("photos")).unwrap();
        let (one, other) = (key('1'), key('2'));
        shelf.put(one, &prepared(1)).unwrap();
        shelf.put(other, &prepared(2)).unwrap();
        assert_eq!(shelf.get(one, Size::Full).unwrap(), vec![1; 3000]);
        assert_eq!(shelf.get(other, Size::Small320).unwrap(), vec![2; 10]);
        shelf.put(one, &prepared(3)).unwrap();
        assert_eq!(shelf.get(one, Size::Large1600).unwrap(), vec![3; 200]);
        let place = folder.path().join("photos").join(one.to_string());
        assert_eq!(names(&place), ["1600.jpg", "320.jpg", "full.jpg"]);
        shelf.delete(one).unwrap();
        shelf.delete(one).unwrap();
        assert!(matches!(shelf.get(one, Size::Full), Err(ShelfFault::NotThere)));
        assert_eq!(shelf.get(other, Size::Full).unwrap().len(), 3000);
    }

    #[test]
    fn no_text_but_a_uuid_becomes_a_key() {
        for text in [
            "",
            "..",
            "../../etc/passwd",
            "0190a0b0-0000-7000-8000-00000000000",
            "0190A0B0-0000-7000-8000-000000000001",
            "0190a0b0000070008000000000000001",
            "{0190a0b0-0000-7000-8000-000000000001}",
            "urn:uuid:0190a0b0-0000-7000-8000-000000000001",
            "0190a0b0-0000-7000-8000-000000000001/..",
            "0190a0b0-0000-7000-8000-00000000000\0",
        ] {
            assert!(matches!(text.parse::<PhotoKey>(), Err(ShelfFault::NoKey)), "{text}");
        }
        assert_eq!(key('1').to_string(), "0190a0b0-0000-7000-8000-000000000001");
    }

    #[test]
    fn the_sweep_sees_only_old_photos() {
        let folder = tempfile::tempdir().unwrap();
        let shelf = FolderShelf::open(folder.path()).unwrap();
        fs::create_dir(folder.path().join("lost+found")).unwrap();
        fs::write(folder.path().join(key('9').to_string()), "a file, no photo").unwrap();
        for last in ['2', '1', '3'] {
            shelf.put(key(last), &prepared(1)).unwrap();
        }
        let days_ago = std::time::SystemTime::now() - std::time::Duration::from_secs(8 * 86_400);
        for last in ['1', '2'] {
            File::open(shelf.folder(key(last))).unwrap().set_modified(days_ago).unwrap();
        }
        let now = std::time::SystemTime::now().duration_since(UNIX_EPOCH).unwrap();
        let week_ago = i64::try_from(now.as_millis()).unwrap() - 7 * 86_400_000;
        assert_eq!(shelf.older_than(week_ago).unwrap(), [key('1'), key('2')]);
        assert_eq!(shelf.older_than(i64::MAX).unwrap().len(), 3);
        assert!(shelf.older_than(-1).unwrap().is_empty());
    }

    #[cfg(unix)]
    #[test]
    fn only_the_program_itself_may_read() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().unwrap();
        let shelf = FolderShelf::open(folder.path().join("photos")).unwrap();
        shelf.put(key('1'), &prepared(1)).unwrap();
        let mode = |place: &Path| fs::metadata(place).unwrap().permissions().mode() & 0o777;
        assert_eq!(mode(&folder.path().join("photos")), 0o700);
        assert_eq!(mode(&shelf.folder(key('1'))), 0o700);
        assert_eq!(mode(&shelf.folder(key('1')).join("full.jpg")), 0o600);
    }

    #[test]
    fn a_refusing_disk_leaves_nothing_half_written() {
        let folder = tempfile::tempdir().unwrap();
        let shelf = FolderShelf::open(folder.path()).unwrap();
        // A file where the photo's folder should be.
        fs::write(folder.path().join(key('1').to_string()), "in the way").unwrap();
        let fault = shelf.put(key('1'), &prepared(1)).unwrap_err();
        assert!(matches!(fault, ShelfFault::Storage { tried: "make the folder", .. }), "{fault}");
        // A folder where a file should go.
        fs::create_dir_all(shelf.folder(key('2')).join("320.jpg/x")).unwrap();
        assert!(shelf.put(key('2'), &prepared(1)).is_err());
    }
}
