//! The record: the final grades of 10,000 students, reckoned with lateness, drops and weights; and the archive of a class
//! with 500 photos, beside Python's zipfile storing the same files and hashlib hashing them.

use std::path::Path;
use std::process::Command;
use std::time::Instant;

use diesel::prelude::*;
use tympan::exchange::archive::writing::{self, Source};
use tympan::exchange::spool::Nameless;
use tympan::ids::{Id, PhotoId, PlateId};
use tympan::photos::picture::Prepared;
use tympan::photos::shelf::{FolderShelf, Shelf};
use tympan::speech::Speech;
use tympan::store::AnyConnection;
use tympan::store::connections::dial;
use tympan::store::copying::kept;
use tympan::store::schema::{photo, plate};
use tympan::store::studio::papers::Papers;
use tympan::trade::exact::{Exact, Rounding, Ties};
use tympan::trade::grading::{Category, Item, LateRule, Lateness, Of, Scale, Scheme, Status, Step, reckon};

use crate::figure::{Bench, Taken};
use crate::load::median;
use crate::school::{ONE_CLASS, School, folder, scratch};
use crate::world::NOW;

const STUDENTS: i64 = 10_000;
const PHOTOS: usize = 500;
/// Bytes of a full-size photo, and of the two made from it, as phones and our own shrinking give them.
const SIZES: [usize; 3] = [2_500_000, 400_000, 25_000];

pub fn grades(bench: &Bench) -> Result<Taken, String> {
    let scheme = scheme()?;
    let mut values = Vec::new();
    for _ in 0..bench.options.pairs.min(5) {
        let began = Instant::now();
        for student in 0..STUDENTS {
            let grade = reckon(&scheme, &work(student)).map_err(|remark| format!("{remark:?}"))?;
            if grade.letter.is_none() {
                return Err("a grade without a letter".to_owned());
            }
        }
        values.push(began.elapsed().as_secs_f64() * 1000.0);
    }
    let levels = format!("{:.0} ms for {STUDENTS} students", median(&values));
    Ok(Taken {
        values,
        levels,
        notes: vec!["4 categories of 5 items each, one dropped, some late".to_owned()],
    })
}

fn scheme() -> Result<Scheme, String> {
    let steps = [("A", 90), ("B", 80), ("C", 70), ("F", 0)]
        .map(|(letter, from)| Step { letter: letter.to_owned(), from: Exact::whole(from) });
    Ok(Scheme {
        late: Some(LateRule {
            percent_per_day: Exact::whole(10),
            of: Of::Possible,
            max_days: Some(5),
            grace_hours: Exact::zero(),
        }),
        missing_counts_zero: true,
        rounding: Rounding { places: 0, ties: Ties::HalfUp },
        scale: Scale::new(steps.into()).map_err(|remark| format!("{remark:?}"))?,
    })
}

fn work(student: i64) -> Vec<Category> {
    (0..4)
        .map(|category| Category {
            name: format!("Category {category}"),
            weight: Exact::whole(25),
            drop_lowest: 1,
            items: (0..5)
                .map(|item| {
                    let chance = student * 31 + category * 17 + item * 7;
                    Item {
                        title: format!("Item {item}"),
                        points: Exact::whole(20 + item),
                        score: Some(Exact::hundredths(500 + chance * 37 % 1_500)),
                        status: Status::Graded,
                        lateness: Lateness::Days(u32::try_from(chance % 4).unwrap_or(0)),
                        extra_credit: false,
                    }
                })
                .collect(),
        })
        .collect()
}

pub fn archive(bench: &Bench) -> Result<Taken, String> {
    let school = scratch(&bench.engine, ONE_CLASS);
    let place = folder().join("archive");
    let _none = std::fs::remove_dir_all(&place);
    std::fs::create_dir_all(&place).map_err(|error| error.to_string())?;
    let shelf = FolderShelf::open(place.join("photos")).map_err(|fault| fault.to_string())?;
    let mut db = dial(&school.address, false).map_err(|error| error.to_string())?;
    hang(&mut db, &school, &shelf)?;
    let speech = Speech::load().map_err(|error| error.to_string())?;
    let papers = Papers::in_folder(place.join("papers"));
    let source = Source { speech: &speech, shelf: &shelf, papers: &papers };
    let (mut own, mut floor, mut bytes) = (Vec::new(), Vec::new(), 0);
    for _ in 0..bench.options.pairs.min(3) {
        let said = |trouble| format!("{trouble:?}");
        let began = Instant::now();
        // A moment later each time: one that was made before is not made again.
        let now = NOW.plus_ms(i64::try_from(own.len()).unwrap_or(0));
        let of = [school.class];
        let made = writing::write(&mut db, source, (&of, None), now, &Nameless::on(&place)).map_err(said)?;
        if let Some((mut text, purged)) = made.text {
            kept::keep(&mut db, (&of, made.as_of), (now, purged), &mut text).map_err(said)?;
        }
        own.push(began.elapsed().as_secs_f64());
        bytes = made.spooled.bytes;
        floor.push(python(&place)?);
    }
    let values = own.iter().zip(&floor).map(|(own, floor)| own / floor).collect();
    let levels = format!("{:.2} s; Python {:.2} s", median(&own), median(&floor));
    let _gone = std::fs::remove_dir_all(&place);
    Ok(Taken {
        values,
        levels,
        notes: vec![format!("{PHOTOS} photos in three sizes, {} MB", bytes / 1_000_000)],
    })
}

/// Puts photos of no picture on the shelf: bytes that cannot be packed, as those of a JPEG file.
fn hang(db: &mut AnyConnection, school: &School, shelf: &FolderShelf) -> Result<(), String> {
    let of: PlateId = plate::table
        .filter(plate::class_id.eq(school.class))
        .select(plate::id)
        .first(db)
        .map_err(|error| error.to_string())?;
    for number in 0..PHOTOS {
        let id: PhotoId = Id::new(NOW);
        let noise = |length: usize| -> Vec<u8> {
            let mut state = u64::try_from(number * 7 + length).unwrap_or(1) | 1;
            (0..length)
                .map(|_| {
                    state ^= state << 13;
                    state ^= state >> 7;
                    state ^= state << 17;
                    state.to_le_bytes()[3]
                })
                .collect()
        };
        let [full, large, small] = SIZES.map(noise);
        let key = id.as_str().parse().map_err(|_error| "no key".to_owned())?;
        shelf.put(key, &Prepared::laid_before(full, large, small)).map_err(|fault| fault.to_string())?;
        diesel::insert_into(photo::table)
            .values((
                (photo::id.eq(id), photo::class_id.eq(school.class), photo::plate_id.eq(of)),
                (photo::sha256.eq(format!("{number:064}")), photo::width.eq(4000), photo::height.eq(3000)),
                (photo::bytes.eq(2_500_000_i64), photo::by_id.eq(school.instructor), photo::at.eq(NOW)),
            ))
            .execute(db)
            .map_err(|error| error.to_string())?;
    }
    Ok(())
}

const FLOOR: &str = "
import hashlib, pathlib, sys, time, zipfile
began = time.perf_counter()
with zipfile.ZipFile(sys.argv[2], 'w', zipfile.ZIP_STORED) as out:
    for file in sorted(pathlib.Path(sys.argv[1]).glob('*/*')):
        body = file.read_bytes()
        hashlib.sha256(body).hexdigest()
        out.writestr(f'{file.parent.name}/{file.name}', body)
print(time.perf_counter() - began)
";

/// Seconds that Python takes for the same files, its start left out.
fn python(place: &Path) -> Result<f64, String> {
    let out = place.join("floor.zip");
    let done = Command::new("python3")
        .args(["-c", FLOOR])
        .arg(place.join("photos"))
        .arg(&out)
        .output()
        .map_err(|error| error.to_string())?;
    let _gone = std::fs::remove_file(out);
    String::from_utf8_lossy(&done.stdout)
        .trim()
        .parse()
        .map_err(|_error| String::from_utf8_lossy(&done.stderr).into_owned())
}
