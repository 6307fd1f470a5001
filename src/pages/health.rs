//! What machines ask: is the program alive, can it work.

use actix_web::HttpResponse;

use crate::pages::answer::Reply;
use crate::pages::entry::Ask;
use crate::trouble::Trouble;

/// The process runs.
pub async fn alive() -> Reply {
    Ok(HttpResponse::Ok().content_type("text/plain; charset=utf-8").body("alive\n"))
}

/// The database answers and takes writes.
pub async fn ready(ask: Ask) -> Reply {
    crate::store::health::probe(&ask.house.db).await.map_err(|_error| Trouble::Busy)?;
    Ok(HttpResponse::Ok().content_type("text/plain; charset=utf-8").body("ready\n"))
}
