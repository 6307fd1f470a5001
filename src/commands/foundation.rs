//! What every command that touches a school does first: settings, log, key, database, house.

use std::io::Write;
use std::os::unix::fs::OpenOptionsExt;
use std::path::Path;

use crate::clock::Clock;
use crate::pages::House;
use crate::post::runner::Post;
use crate::post::transport;
use crate::secrets::{self, ServerKey};
use crate::settings::Settings;
use crate::store::connections::{Address, dial};
use crate::store::migrations::{self, Schema};
use crate::store::{AnyConnection, Db};
use crate::trouble::Trouble;

/// Turns a trouble into the console's sentence.
#[must_use]
pub fn sentence(trouble: Trouble) -> String {
    match trouble {
        Trouble::Broken { doing, cause } => format!("While {doing}: {cause}"),
        other => other.to_string(),
    }
}

/// Starts the structured log on standard output. A second start is ignored.
pub fn start_log(level: &str) {
    let filter = tracing_subscriber::EnvFilter::try_new(level)
        .unwrap_or_else(|_| tracing_subscriber::EnvFilter::new("info"));
    let _already_started = tracing_subscriber::fmt()
        .json()
        .with_current_span(false)
        .with_span_list(false)
        .with_env_filter(filter)
        .try_init();
}

/// Opens the database at the program's schema. SQLite is brought there, after a copy of what was; PostgreSQL must be
/// there already, because several servers may share it.
///
/// # Errors
/// A sentence for the console.
pub fn open_database(settings: &Settings) -> Result<Db, String> {
    let address = Address::parse(&settings.database_url)
        .map_err(|problem| format!("Setting TYMPAN_DATABASE_URL: {problem}."))?;
    if let Address::Sqlite(path) = &address
        && let Some(folder) = path.parent()
    {
        make_folder(folder)?;
    }
    let mut connection = dial(&address, false).map_err(|error| format!("Opening the database: {error}"))?;
    match migrations::schema_of(&mut connection).map_err(sentence)? {
        Schema::Current => {}
        Schema::Newer(version) => {
            return Err(format!(
                "The database holds migration {version}, which this program does not know: it is newer than the \
                 program. Run the newer program, or restore a backup of before."
            ));
        }
        Schema::Older(missing) => match &address {
            Address::Postgres(_) => {
                return Err(format!(
                    "The database lacks {missing} migration(s). Run “tympan migrate” once, then start the servers."
                ));
            }
            Address::Sqlite(path) => {
                keep_copy(&mut connection, path)?;
                drop(connection);
                migrations::migrate(&address).map_err(sentence)?;
            }
        },
    }
    Db::open(address).map_err(sentence)
}

/// Before a schema changes, a copy of the file is left beside it. A new file needs none.
fn keep_copy(connection: &mut AnyConnection, path: &Path) -> Result<(), String> {
    if std::fs::metadata(path).map(|about| about.len()).unwrap_or(0) < 16_384 {
        return Ok(());
    }
    let stamp = chrono::Utc::now().format("%Y%m%dT%H%M%SZ");
    let copy = path.with_extension(format!("before-{stamp}.db"));
    let quoted = copy.to_string_lossy().replace('\'', "''");
    crate::store::write::execute(connection, &format!("VACUUM INTO '{quoted}'")).map_err(sentence)
}

/// Makes a folder that only its owner may enter.
///
/// # Errors
/// A sentence for the console.
pub fn make_folder(folder: &Path) -> Result<(), String> {
    use std::os::unix::fs::DirBuilderExt;
    std::fs::DirBuilder::new()
        .recursive(true)
        .mode(0o700)
        .create(folder)
        .map_err(|error| format!("Making the folder {}: {error}", folder.display()))
}

/// Reads the server's key, or makes one beside an SQLite database.
///
/// # Errors
/// A sentence for the console.
pub fn read_key(settings: &Settings) -> Result<ServerKey, String> {
    let own = settings.data.join("key");
    let path = settings.key_file.as_deref().unwrap_or(&own);
    match std::fs::read(path) {
        Ok(bytes) => <[u8; 32]>::try_from(bytes.as_slice())
            .map(ServerKey::from_bytes)
            .map_err(|_error| format!("The key file {} must hold exactly 32 random bytes.", path.display())),
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
            if settings.key_file.is_some() || !settings.database_url.starts_with("sqlite:") {
                return Err(format!(
                    "Setting TYMPAN_KEY_FILE: there is no key at {}. Make one with: head -c 32 /dev/urandom > {}",
                    path.display(),
                    path.display()
                ));
            }
            make_folder(&settings.data)?;
            let bytes = secrets::random::<32>().map_err(sentence)?;
            let mut file = std::fs::OpenOptions::new()
                .write(true)
                .create_new(true)
                .mode(0o600)
                .open(path)
                .map_err(|error| format!("Making the key file {}: {error}", path.display()))?;
            file.write_all(&bytes)
                .and_then(|()| file.sync_all())
                .map_err(|error| format!("Writing the key file {}: {error}", path.display()))?;
            Ok(ServerKey::from_bytes(bytes))
        }
        Err(error) => Err(format!("Reading the key file {}: {error}", path.display())),
    }
}

/// Everything together.
///
/// # Errors
/// A sentence for the console.
pub fn build_house(settings: Settings, clock: Clock) -> Result<House, String> {
    let key = read_key(&settings)?;
    let db = open_database(&settings)?;
    House::build(settings, db, clock, key).map_err(sentence)
}

/// The post of a house, with the transport of its settings.
///
/// # Errors
/// A sentence that names the setting.
pub fn build_post(house: &House) -> Result<Post, String> {
    let transport = transport::from_settings(&house.settings)?;
    let (db, clock, key) = (house.db.clone(), house.clock.clone(), house.key.clone());
    Post::new(&house.settings, db, clock, key, house.speech.clone(), transport)
}
