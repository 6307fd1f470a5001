//! Sending a table: who may, the password asked for again, the table spooled, what is disclosed kept, then the bytes.

use std::fs::File;
use std::io::Read;

use actix_web::body::SizedStream;
use actix_web::http::header;
use actix_web::web::{self, Bytes};
use actix_web::{HttpRequest, HttpResponse};
use futures_util::stream;

use crate::exchange::spool::Spooled;
use crate::exchange::spreadsheet::MEDIA_TYPE;
use crate::exchange::tables::Table;
use crate::pages::answer::{Reply, encode, see_other};
use crate::pages::entry::{Ask, InClass, Seat};
use crate::pages::exports::may_take;
use crate::pages::exports::purpose::purpose;
use crate::store::exports;
use crate::store::exports::disclosures::{self, Taking, Way};
use crate::trade::spelled::Spelled;
use crate::trouble::Trouble;

const CHUNK: usize = 64 * 1024;

/// Sends a table.
pub async fn send(ask: InClass, path: web::Path<(String, String)>) -> Reply {
    let (_, what) = path.into_inner();
    let table = Table::from_word(&what).ok_or(Trouble::NotFound)?;
    if !may_take(ask.seat(), table) {
        return Err(Trouble::NotYours);
    }
    if ask.confirmed().is_err() {
        // Back to the page and not to the file: a browser that is sent to a file stays where it was.
        let page = format!("/classes/{}/records", ask.class());
        return Ok(see_other(format!("/account/confirm?next={}", encode(&page))));
    }
    let (house, class, now, by) = (&ask.house, ask.class(), ask.now(), ask.person.id);
    let mut of = house.db.read(move |db| exports::of(db, class, now)).await?;
    of.submitted_alone = ask.seat() == Seat::Records;
    let name = table.file_name(&of);
    let spooled = house.spool.write(&house.db, house.speech.clone(), table, of).await?;
    if let Some(known) = known_already(&ask.request, &spooled) {
        return Ok(known);
    }
    let taking = taking(&ask, table.word(), &spooled);
    house.db.note(move |db| disclosures::keep(db, now, Some(by), class, &taking)).await?;
    Ok(deliver(spooled, &name, MEDIA_TYPE))
}

/// What is kept of a download.
pub(super) fn taking(ask: &Ask, what: &str, spooled: &Spooled) -> Taking {
    Taking { table: what.to_owned(), sha256: spooled.sha256.clone(), way: Way::Page, purpose: purpose(ask) }
}

fn etag(spooled: &Spooled) -> String {
    format!("\"{}\"", spooled.sha256)
}

/// 304 for whoever has these very bytes.
pub(super) fn known_already(request: &HttpRequest, spooled: &Spooled) -> Option<HttpResponse> {
    let etag = etag(spooled);
    has_already(request, &etag).then(|| {
        HttpResponse::NotModified()
            .insert_header((header::ETAG, etag))
            .insert_header((header::CACHE_CONTROL, "no-store"))
            .finish()
    })
}

/// Sends a spooled file under a name.
pub(in crate::pages) fn deliver(spooled: Spooled, name: &str, media_type: &'static str) -> HttpResponse {
    HttpResponse::Ok()
        .insert_header((header::CONTENT_TYPE, media_type))
        .insert_header((header::CONTENT_DISPOSITION, disposition(name)))
        .insert_header((header::ETAG, etag(&spooled)))
        .insert_header((header::CACHE_CONTROL, "no-store"))
        // Not to be compressed: then neither length nor strong tag would be those of the file.
        .insert_header((header::CONTENT_ENCODING, "identity"))
        .body(body(spooled))
}

/// Whether the asker names this very tag (RFC 9110, 13.1.2).
fn has_already(request: &HttpRequest, etag: &str) -> bool {
    request
        .headers()
        .get_all(header::IF_NONE_MATCH)
        .filter_map(|value| value.to_str().ok())
        .flat_map(|value| value.split(','))
        .any(|tag| tag.trim().trim_start_matches("W/") == etag)
}

/// To be kept as a file of this name: in ASCII for old programs, then in full (RFC 6266, 4.3; RFC 8187, 3.2).
fn disposition(name: &str) -> String {
    let plain: String = name.chars().map(|c| if c.is_ascii() { c } else { '_' }).collect();
    format!("attachment; filename=\"{plain}\"; filename*=UTF-8''{}", encode(name))
}

/// The file in pieces, each read when the one before is on its way.
fn body(spooled: Spooled) -> SizedStream<impl futures_util::Stream<Item = Result<Bytes, std::io::Error>>> {
    let pieces = stream::try_unfold(spooled.file, |file| async move {
        web::block(move || piece(file)).await.map_err(std::io::Error::other)?
    });
    SizedStream::new(spooled.bytes, Box::pin(pieces))
}

fn piece(file: File) -> std::io::Result<Option<(Bytes, File)>> {
    let mut bytes = Vec::with_capacity(CHUNK);
    let most = u64::try_from(CHUNK).unwrap_or(u64::MAX);
    let count = (&file).take(most).read_to_end(&mut bytes)?;
    Ok((count > 0).then(|| (Bytes::from(bytes), file)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_name_is_told_twice() {
        assert_eq!(
            disposition("LIT-B Été 2026 grades.csv"),
            "attachment; filename=\"LIT-B _t_ 2026 grades.csv\"; \
             filename*=UTF-8''LIT-B%20%C3%89t%C3%A9%202026%20grades.csv"
        );
    }
}
