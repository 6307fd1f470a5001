//! The news of a class: one number that goes up with every act on it. Told as server-sent events (WHATWG HTML, section
//! 9.2) to whoever asks for them, and once to whoever does not, so that a page can ask now and then instead. While
//! nothing happens nothing is asked of the database.

use std::time::Duration;

use actix_web::http::header;
use actix_web::web::Bytes;
use actix_web::{HttpResponse, web};
use futures_util::stream;
use serde_json::json;
use tokio::sync::watch;
use tokio::time::{Instant, sleep_until};

use crate::ids::{ClassId, PersonId, SessionId};
use crate::pages::answer::Reply;
use crate::pages::entry::InClass;
use crate::pages::house::House;
use crate::pages::tonight::listeners::{Listener, Told};
use crate::store::news;
use crate::store::people::sessions;
use crate::trouble::Trouble;

/// So often a line goes out that says nothing, lest somebody between takes a quiet connection for a dead one.
const HEARTBEAT: Duration = Duration::from_secs(25);
/// After so long the browser asks anew, and the gate looks at the session anew.
const LONGEST: Duration = Duration::from_secs(5 * 60);

/// Tells the news.
pub async fn news(ask: InClass) -> Reply {
    let (class, person) = (ask.class(), ask.person.id);
    let streams = ask
        .request
        .headers()
        .get(header::ACCEPT)
        .and_then(|value| value.to_str().ok())
        .is_some_and(|accept| accept.contains("text/event-stream"));
    // Listening begins before the number is asked for, so that nothing falls between.
    let heard = streams.then(|| ask.house.db.news().hear(class));
    let stands = ask.house.db.read(move |db| news::stands(db, class)).await?;
    let Some(heard) = heard else {
        return Ok(HttpResponse::Ok()
            .insert_header((header::CACHE_CONTROL, "no-store"))
            .json(json!({ "number": stands })));
    };
    let now = Instant::now();
    let telling = Telling {
        heard,
        listener: ask.house.listeners.listen(person),
        house: ask.house.clone(),
        class,
        person,
        session: ask.person.session,
        begins: Some(stands),
        told: stands,
        beats: now + HEARTBEAT,
        ends: now + LONGEST,
        over: false,
    };
    Ok(HttpResponse::Ok()
        .insert_header((header::CONTENT_TYPE, "text/event-stream"))
        .insert_header((header::CACHE_CONTROL, "no-store"))
        // Each line goes out at once: no packing here, no gathering in a proxy that asks.
        .insert_header((header::CONTENT_ENCODING, "identity"))
        .insert_header(("x-accel-buffering", "no"))
        .streaming(stream::unfold(telling, Telling::next)))
}

struct Telling {
    heard: watch::Receiver<i64>,
    listener: Listener,
    house: web::Data<House>,
    class: ClassId,
    person: PersonId,
    session: SessionId,
    begins: Option<i64>,
    told: i64,
    beats: Instant,
    ends: Instant,
    over: bool,
}

impl Telling {
    /// The next thing to say, or none: then the answer ends, and the browser asks anew unless it was told enough.
    async fn next(mut self) -> Option<(Result<Bytes, Trouble>, Self)> {
        if let Some(stands) = self.begins.take() {
            return Some((Ok(Bytes::from(format!("retry: 3000\n{}", event(stands)))), self));
        }
        loop {
            if self.over || *self.listener.told.borrow() == Told::Close {
                return None;
            }
            tokio::select! {
                changed = self.heard.changed() => {
                    changed.ok()?;
                    let stands = *self.heard.borrow_and_update();
                    if stands > self.told {
                        self.told = stands;
                        return Some((Ok(Bytes::from(event(stands))), self));
                    }
                }
                told = self.listener.told.changed() => {
                    told.ok()?;
                    let told = *self.listener.told.borrow_and_update();
                    match told {
                        Told::Go(_) => self.over = !self.still_there().await,
                        Told::Close => return None,
                        Told::Enough => {
                            self.over = true;
                            return Some((Ok(Bytes::from_static(b"event: enough\ndata: 0\n\n")), self));
                        }
                    }
                }
                () = sleep_until(self.beats) => {
                    self.beats += HEARTBEAT;
                    return Some((Ok(Bytes::from_static(b":\n\n")), self));
                }
                () = sleep_until(self.ends) => return None,
            }
        }
    }

    /// Whether the session holds: asked only when something about the person's sessions changed.
    async fn still_there(&self) -> bool {
        let (session, person, now) = (self.session, self.person, self.house.now());
        let found = self.house.db.read(move |db| sessions::of_person(db, person, now)).await;
        found.is_ok_and(|all| all.iter().any(|one| one.id == session))
    }
}

impl std::fmt::Debug for Telling {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Telling")
            .field("class", &self.class)
            .field("told", &self.told)
            .finish_non_exhaustive()
    }
}

fn event(number: i64) -> String {
    format!("id: {number}\ndata: {number}\n\n")
}
