//! What machines ask: is the program alive, can it work; and the assets of the pages.

use actix_web::http::header;
use actix_web::{HttpResponse, web};
use rust_embed::RustEmbed;

use crate::pages::answer::Reply;
use crate::pages::entry::Ask;
use crate::trouble::Trouble;

#[derive(RustEmbed)]
#[folder = "templates/assets/"]
pub(crate) struct Assets;

/// The process runs.
pub async fn alive() -> Reply {
    Ok(HttpResponse::Ok().content_type("text/plain; charset=utf-8").body("alive\n"))
}

/// The database answers and takes writes.
pub async fn ready(ask: Ask) -> Reply {
    crate::store::health::probe(&ask.house.db).await.map_err(|_error| Trouble::Busy)?;
    Ok(HttpResponse::Ok().content_type("text/plain; charset=utf-8").body("ready\n"))
}

/// A style sheet, script or picture built into the program. Browsers ask again each day and are told “unchanged”.
pub async fn asset(ask: Ask, name: web::Path<String>) -> Reply {
    let file = Assets::get(&name).ok_or(Trouble::NotFound)?;
    let etag = format!("\"{}\"", crate::secrets::hex(&file.metadata.sha256_hash()));
    let kind = match name.rsplit('.').next() {
        Some("css") => "text/css; charset=utf-8",
        Some("js" | "mjs") => "text/javascript; charset=utf-8",
        Some("svg") => "image/svg+xml",
        Some("webmanifest") => "application/manifest+json",
        Some("png") => "image/png",
        _ => return Err(Trouble::NotFound),
    };
    let known = ask.request.headers().get(header::IF_NONE_MATCH).and_then(|value| value.to_str().ok());
    if known == Some(etag.as_str()) {
        return Ok(HttpResponse::NotModified().insert_header((header::ETAG, etag)).finish());
    }
    Ok(HttpResponse::Ok()
        .insert_header((header::CONTENT_TYPE, kind))
        .insert_header((header::ETAG, etag))
        .insert_header((header::CACHE_CONTROL, "public, max-age=86400"))
        .body(file.data.into_owned()))
}
