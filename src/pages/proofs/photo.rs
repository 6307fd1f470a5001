//! A photo's bytes. The right to see it is asked at each request; the bytes are sent again only to a browser that does not
//! hold them yet.

use actix_web::http::header::{self, HeaderMap};
use actix_web::{HttpResponse, web};

use crate::ids::{ClassId, PhotoId};
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::proofs::key;
use crate::photos::shelf::Size;
use crate::store::proofs::photos;
use crate::trouble::Trouble;

const CACHING: &str = "private, no-cache";

/// One of the three sizes of a photo.
pub async fn show(ask: InClass, ids: web::Path<(ClassId, PhotoId, String)>) -> Reply {
    let (class, photo, size) = ids.into_inner();
    let owner = ask.owner();
    ask.house.db.read(move |db| photos::seen_by(db, class, photo, owner)).await?;
    sent(&ask, photo, &size, "proof").await
}

/// A photo whose right was asked, under a file name that begins with `called`.
pub(in crate::pages) async fn sent(ask: &InClass, photo: PhotoId, size: &str, called: &str) -> Reply {
    let size = Size::from_word(size).ok_or(Trouble::NotFound)?;
    // Files are written once and never under another photo's id, so the id stands for the bytes.
    let etag = format!("\"{photo}-{}\"", size.word());
    if holds(ask.request.headers(), &etag) {
        return Ok(HttpResponse::NotModified()
            .insert_header((header::ETAG, etag))
            .insert_header((header::CACHE_CONTROL, CACHING))
            .finish());
    }
    let bytes = ask.house.darkroom.get(key(photo)?, size).await?;
    Ok(HttpResponse::Ok()
        .insert_header((header::CONTENT_TYPE, "image/jpeg"))
        .insert_header((
            header::CONTENT_DISPOSITION,
            format!("inline; filename=\"{called}-{}\"", size.file_name()),
        ))
        .insert_header((header::X_CONTENT_TYPE_OPTIONS, "nosniff"))
        .insert_header((header::ETAG, etag))
        .insert_header((header::CACHE_CONTROL, CACHING))
        .body(bytes))
}

/// Whether the browser holds what this tag names (RFC 9110, 13.1.2; compared weakly, as it says there).
fn holds(headers: &HeaderMap, etag: &str) -> bool {
    headers
        .get_all(header::IF_NONE_MATCH)
        .filter_map(|value| value.to_str().ok())
        .flat_map(|list| list.split(','))
        .map(str::trim)
        .any(|one| one == "*" || one.strip_prefix("W/").unwrap_or(one) == etag)
}
