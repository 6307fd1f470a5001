//! The service worker: the pages a phone keeps, under a name that changes with what is in them, so that a new version of
//! the program is a new worker and waits until nobody is at the table.

use std::sync::OnceLock;

use actix_web::HttpResponse;
use actix_web::http::header;
use sha2::{Digest, Sha256};

use crate::pages::answer::Reply;
use crate::pages::assets;
use crate::speech::language::Language;
use crate::trade::spelled::Spelled;

/// What is kept besides the three pages.
const KEPT: [&str; 13] = [
    "tokens.css",
    "tympan.css",
    "mark.svg",
    "table.js",
    "table-beside.js",
    "table-clock.js",
    "table-drops.js",
    "table-kept.js",
    "table-photos.js",
    "table-signal.js",
    "tablet-number.js",
    "splash.js",
    "kept.js",
];

/// The script, with its version and its list put in front.
pub async fn script() -> Reply {
    static VERSION: OnceLock<String> = OnceLock::new();
    let version = VERSION.get_or_init(version);
    let body = assets::script("service-worker.js").unwrap_or_default();
    let list: Vec<String> = KEPT.iter().map(|name| format!("\"{}\"", assets::address(name))).collect();
    // The pages are kept in the language of whoever is at the phone; in another language they are other pages.
    let tag = Language::at_hand().word();
    let head = format!(
        "const VERSION = \"{version}-{tag}\";\nconst LANGUAGE = \"{tag}\";\nconst KEPT = [{}];\n",
        list.join(", ")
    );
    Ok(HttpResponse::Ok()
        .insert_header((header::CONTENT_TYPE, "text/javascript; charset=utf-8"))
        .insert_header((header::CACHE_CONTROL, "no-cache"))
        .body(head + &body))
}

fn version() -> String {
    let mut digest = Sha256::new();
    digest.update(assets::version());
    for name in [
        "sittings/table.hbs",
        "sittings/splash.hbs",
        "sittings/tablet.hbs",
        "layout.hbs",
        "etches/fields.hbs",
    ] {
        if let Some(hash) = crate::pages::render::hash_of(name) {
            digest.update(hash);
        }
    }
    crate::secrets::hex(&digest.finalize()).chars().take(16).collect()
}
