//! The schools that figures are taken over, built once for each database, size and schema and kept under `target/bench`.

use std::path::PathBuf;

use diesel::prelude::*;
use tympan::ids::{ClassId, PersonId, SessionId};
use tympan::secrets::sha256_hex;
use tympan::store::connections::{Address, dial};
use tympan::store::schema::{enrolment, plate, session};
use tympan::store::{AnyConnection, migrations, write};

use crate::crowd::Crowd;
use crate::world::{NOW, World};

/// One class, as most pages are taken.
pub const ONE_CLASS: Crowd = Crowd::one_class(24, 3);
/// Ten thousand plates.
pub const COLLEGE: Crowd = Crowd { classes: 139, students: 24, plates: 3 };
/// 48,000 people, 144,000 plates.
pub const UNIVERSITY: Crowd = Crowd { classes: 2000, students: 24, plates: 3 };

/// Which database.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Engine {
    Sqlite,
    /// By the URL of a throw-away server.
    Postgres(String),
}

/// A school ready to be opened.
#[derive(Debug, Clone)]
pub struct School {
    pub address: Address,
    pub class: ClassId,
    pub instructor: PersonId,
}

/// The sessions that every school holds: the token of the cookie.
pub const STUDENT_TOKEN: &str = "bench-student";
pub const INSTRUCTOR_TOKEN: &str = "bench-instructor";

/// `target/bench`, where a clean build also cleans this.
pub fn folder() -> PathBuf {
    let target = std::env::var_os("CARGO_TARGET_DIR")
        .map_or_else(|| PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("target"), PathBuf::from);
    let folder = target.join("bench");
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

/// The school of a size as it was built; nothing may be written into it but sessions' last sight.
pub fn school(engine: &Engine, crowd: Crowd) -> School {
    let address = match engine {
        Engine::Sqlite => Address::Sqlite(kept_file(crowd)),
        Engine::Postgres(url) => {
            let schema = format!("bench_{}", digest(crowd));
            let address = within(url, &schema);
            if !has_schema(url, &schema) {
                let making = format!("{schema}_making");
                make_schema(url, &making);
                build(&within(url, &making), crowd);
                let mut db = dial(&Address::Postgres(url.clone()), false).unwrap();
                write::execute(&mut db, &format!("ALTER SCHEMA {making} RENAME TO {schema}")).unwrap();
            }
            address
        }
    };
    opened(address)
}

/// The same school, to write into: a copy of the file, or a schema made anew.
pub fn scratch(engine: &Engine, crowd: Crowd) -> School {
    let address = match engine {
        Engine::Sqlite => {
            let path = folder().join("scratch.db");
            for ending in ["db-wal", "db-shm"] {
                let _none = std::fs::remove_file(path.with_extension(ending));
            }
            std::fs::copy(kept_file(crowd), &path).unwrap();
            Address::Sqlite(path)
        }
        Engine::Postgres(url) => {
            make_schema(url, "bench_scratch");
            let address = within(url, "bench_scratch");
            build(&address, crowd);
            address
        }
    };
    opened(address)
}

fn kept_file(crowd: Crowd) -> PathBuf {
    let path = folder().join(format!("school-{}.db", digest(crowd)));
    if !path.exists() {
        let making = path.with_extension("making");
        let _none = std::fs::remove_file(&making);
        build(&Address::Sqlite(making.clone()), crowd);
        std::fs::rename(&making, &path).unwrap();
    }
    path
}

/// What decides whether a school built earlier will do: schema, size, and how it is told.
fn digest(crowd: Crowd) -> String {
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let mut all = format!("{crowd:?} {NOW:?}");
    let mut steps: Vec<_> = std::fs::read_dir(root.join("migrations/postgres")).unwrap().flatten().collect();
    steps.sort_by_key(std::fs::DirEntry::path);
    for step in steps {
        all += &std::fs::read_to_string(step.path().join("up.sql")).unwrap();
    }
    all += include_str!("../studio/crowd.rs");
    all += include_str!("school.rs");
    sha256_hex(all.as_bytes())[..12].to_owned()
}

fn build(address: &Address, crowd: Crowd) {
    migrations::migrate(address).unwrap();
    let mut db = dial(address, false).unwrap();
    let world = World::plain(&mut db);
    crowd.fill(&mut db, &world);
    let student: PersonId =
        plate::table.find(Crowd::plate(0)).select(plate::person_id).first(&mut db).unwrap();
    for (person, token) in [(student, STUDENT_TOKEN), (world.instructor, INSTRUCTOR_TOKEN)] {
        let ends = NOW.plus_ms(86_400_000);
        diesel::insert_into(session::table)
            .values((
                (session::id.eq(SessionId::new(NOW)), session::token_hash.eq(sha256_hex(token.as_bytes()))),
                (session::person_id.eq(person), session::agent.eq("bench"), session::created_at.eq(NOW)),
                (session::seen_at.eq(NOW), session::idle_ms.eq(86_400_000_i64)),
                (session::ends_at.eq(ends), session::confirmed_at.eq(NOW)),
            ))
            .execute(&mut db)
            .unwrap();
    }
    if let Address::Postgres(_) = address {
        // What a server in use has done by itself long before: here its first questions would come sooner.
        write::execute(&mut db, "ANALYZE").unwrap();
    }
}

fn opened(address: Address) -> School {
    let mut db = dial(&address, false).unwrap();
    let class: ClassId = plate::table.find(Crowd::plate(0)).select(plate::class_id).first(&mut db).unwrap();
    let instructor = enrolment::table
        .filter(enrolment::class_id.eq(class).and(enrolment::role.eq("instructor")))
        .select(enrolment::person_id)
        .first(&mut db)
        .unwrap();
    School { address, class, instructor }
}

fn within(url: &str, schema: &str) -> Address {
    let joint = if url.contains('?') { '&' } else { '?' };
    Address::Postgres(format!("{url}{joint}options=-csearch_path%3D{schema}"))
}

fn make_schema(url: &str, schema: &str) {
    let mut db = dial(&Address::Postgres(url.to_owned()), false).unwrap();
    write::execute(&mut db, &format!("DROP SCHEMA IF EXISTS {schema} CASCADE; CREATE SCHEMA {schema}"))
        .unwrap();
}

fn has_schema(url: &str, schema: &str) -> bool {
    let mut db: AnyConnection = dial(&Address::Postgres(url.to_owned()), false).unwrap();
    let found = diesel::sql_query("SELECT 1 FROM pg_namespace WHERE nspname = $1")
        .bind::<diesel::sql_types::Text, _>(schema)
        .execute(&mut db);
    found.unwrap() > 0
}
