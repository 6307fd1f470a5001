//! Style sheets, scripts and pictures built into the program. Pages name them with the version of all of them, so that a
//! browser may keep each for good: another version has another address.

use std::sync::OnceLock;

use actix_web::http::header;
use actix_web::{HttpResponse, web};
use rust_embed::RustEmbed;
use sha2::{Digest, Sha256};

use crate::pages::answer::Reply;
use crate::pages::entry::Ask;
use crate::secrets::hex;
use crate::trouble::Trouble;

#[derive(RustEmbed)]
#[folder = "templates/assets/"]
struct Assets;

/// The version of all assets together.
#[must_use]
pub fn version() -> &'static str {
    static VERSION: OnceLock<String> = OnceLock::new();
    VERSION.get_or_init(|| {
        let mut digest = Sha256::new();
        digest.update(env!("CARGO_PKG_VERSION"));
        for name in Assets::iter() {
            if let Some(file) = Assets::get(&name) {
                digest.update(file.metadata.sha256_hash());
            }
        }
        hex(&digest.finalize()).chars().take(16).collect()
    })
}

/// Where an asset of this version is.
#[must_use]
pub fn address(name: &str) -> String {
    format!("/assets/{name}?v={}", version())
}

/// A script as it is served: what it imports has its version, too.
#[must_use]
pub fn script(name: &str) -> Option<String> {
    let mut text = String::from_utf8_lossy(&Assets::get(name)?.data).into_owned();
    for import in Assets::iter().filter(|import| import.ends_with(".js")) {
        text = text.replace(&format!("\"/assets/{import}\""), &format!("\"{}\"", address(&import)));
    }
    Some(text)
}

/// One of them. What is asked for by its version never changes; else browsers ask again and are told “unchanged”.
pub async fn asset(ask: Ask, name: web::Path<String>) -> Reply {
    let file = Assets::get(&name).ok_or(Trouble::NotFound)?;
    let kind = match name.rsplit('.').next() {
        Some("css") => "text/css; charset=utf-8",
        Some("js" | "mjs") => "text/javascript; charset=utf-8",
        Some("svg") => "image/svg+xml",
        Some("webmanifest") => "application/manifest+json",
        Some("png") => "image/png",
        _ => return Err(Trouble::NotFound),
    };
    let etag = format!("\"{}-{}\"", hex(&file.metadata.sha256_hash()), version());
    let known = ask.request.headers().get(header::IF_NONE_MATCH).and_then(|value| value.to_str().ok());
    if known == Some(etag.as_str()) {
        return Ok(HttpResponse::NotModified().insert_header((header::ETAG, etag)).finish());
    }
    let lasting = match ask.query("v").as_deref() == Some(version()) {
        true => "public, max-age=31536000, immutable",
        false => "no-cache",
    };
    let body = match script(&name).filter(|_| kind.starts_with("text/javascript")) {
        Some(script) => script.into_bytes(),
        None => file.data.into_owned(),
    };
    Ok(HttpResponse::Ok()
        .insert_header((header::CONTENT_TYPE, kind))
        .insert_header((header::ETAG, etag))
        .insert_header((header::CACHE_CONTROL, lasting))
        .body(body))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scripts_import_what_belongs_to_them() {
        let table = script("table.js").unwrap_or_default();
        for name in ["table-clock.js", "table-kept.js", "table-signal.js"] {
            assert!(table.contains(&address(name)), "{name}");
        }
        assert!(!table.contains(".js\";"), "none is without its version");
    }
}
