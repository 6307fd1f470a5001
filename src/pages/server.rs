//! The web server over a house: every door behind its gate, headers on every answer, one log line per request.

use std::net::TcpListener;
use std::time::Duration;

use actix_web::body::BoxBody;
use actix_web::dev::{Server, ServiceRequest, ServiceResponse};
use actix_web::http::header::{self, HeaderName, HeaderValue};
use actix_web::middleware::{Compress, Next, from_fn};
use actix_web::{App, Error, HttpMessage, HttpServer, Route, Scope, guard, web};

use crate::pages::answer::Reply;
use crate::pages::doors::{Door, doors};
use crate::pages::entry::Who;
use crate::pages::forms::FORM_LIMIT;
use crate::pages::gate;
use crate::pages::house::House;
use crate::trouble::Trouble;

/// The door in front of nothing: what no other door answers.
static NO_DOOR: Door = Door {
    method: actix_web::http::Method::GET,
    path: "",
    who: Who::Anyone,
    unsealed: true,
    to: || web::route().to(nothing),
};

async fn nothing() -> Reply {
    Err(Trouble::NotFound)
}

/// Starts serving on a listener that is already bound. The future ends when the server was stopped.
///
/// # Errors
/// The listener cannot be used.
pub fn serve(house: web::Data<House>, listener: TcpListener, workers: usize) -> std::io::Result<Server> {
    let server = HttpServer::new(move || {
        App::new()
            .app_data(house.clone())
            .app_data(web::PayloadConfig::new(FORM_LIMIT))
            .app_data(web::PathConfig::default().error_handler(|_no_id, _| Trouble::NotFound.into()))
            .configure(hang_doors)
            .default_service(
                web::route().to(nothing).wrap(from_fn(|request, next| gate::pass(&NO_DOOR, request, next))),
            )
            .wrap(Compress::default())
            .wrap(from_fn(headers))
            .wrap(from_fn(log))
    })
    .workers(workers)
    .shutdown_timeout(30)
    .client_request_timeout(Duration::from_secs(30))
    .disable_signals()
    .listen(listener)?
    .run();
    Ok(server)
}

/// Hangs all doors as a tree of rooms, one segment of the path a level: an address is compared with the few doors of its
/// room. In one long list every request was compared with every door, which took longer than most pages.
fn hang_doors(config: &mut web::ServiceConfig) {
    let doors: Vec<Hung> = doors().map(|door| (door.path, door)).collect();
    for (segment, within) in rooms(&doors) {
        if within.iter().all(|(rest, _)| rest.is_empty()) {
            for (_, door) in within {
                config.route(segment, guarded(door));
            }
        } else {
            config.service(room(segment, &within));
        }
    }
}

/// A door and what is left of its path.
type Hung = (&'static str, &'static Door);

fn room(segment: &str, doors: &[Hung]) -> Scope {
    let mut scope = web::scope(segment);
    for (segment, within) in rooms(doors) {
        if within.iter().all(|(rest, _)| rest.is_empty()) {
            for (_, door) in within {
                scope = scope.route(segment, guarded(door));
            }
        } else {
            scope = scope.service(room(segment, &within));
        }
    }
    scope
}

/// The doors by their first segment, words before what stands for any word: `new` is no id.
fn rooms(doors: &[Hung]) -> Vec<(&'static str, Vec<Hung>)> {
    let mut found: Vec<(&'static str, Vec<Hung>)> = Vec::new();
    for (path, door) in doors {
        let ends = path.get(1..).and_then(|rest| rest.find('/')).map_or(path.len(), |at| at + 1);
        let (segment, rest) = path.split_at_checked(ends).unwrap_or((path, ""));
        match found.iter_mut().find(|(known, _)| *known == segment) {
            Some((_, within)) => within.push((rest, door)),
            None => found.push((segment, vec![(rest, door)])),
        }
    }
    found.sort_by_key(|(segment, _)| segment.contains('{'));
    found
}

fn guarded(door: &'static Door) -> Route {
    let route = (door.to)().guard(guard::Method(door.method.clone()));
    route.wrap(from_fn(move |request, next| gate::pass(door, request, next)))
}

const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; \
    connect-src 'self'; manifest-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'none'; \
    frame-ancestors 'none'; object-src 'none'";

/// What every answer says, unless it says otherwise itself.
const ON_EVERY_ANSWER: [(HeaderName, HeaderValue); 6] = [
    (header::CONTENT_SECURITY_POLICY, HeaderValue::from_static(POLICY)),
    (header::X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff")),
    (header::REFERRER_POLICY, HeaderValue::from_static("same-origin")),
    (header::CROSS_ORIGIN_OPENER_POLICY, HeaderValue::from_static("same-origin")),
    (header::CROSS_ORIGIN_RESOURCE_POLICY, HeaderValue::from_static("same-origin")),
    (header::PERMISSIONS_POLICY, HeaderValue::from_static("camera=(self), geolocation=(), microphone=()")),
];

async fn headers(
    request: ServiceRequest,
    next: Next<impl actix_web::body::MessageBody + 'static>,
) -> Result<ServiceResponse<BoxBody>, Error> {
    let https = request.app_data::<web::Data<House>>().is_some_and(|house| house.settings.is_https());
    let told = asked_to_tell(request.query_string());
    let mut response = next.call(request).await?.map_into_boxed_body();
    let all = response.headers_mut();
    for (name, value) in ON_EVERY_ANSWER {
        if !all.contains_key(&name) {
            all.insert(name, value);
        }
    }
    // A file of known length goes out as it is; that it does so is said by leaving the header out (RFC 9110, 8.4.1).
    if all.get(header::CONTENT_ENCODING).is_some_and(|coding| coding == "identity") {
        all.remove(header::CONTENT_ENCODING);
    }
    if let Some(mark) = told.filter(|_| all.contains_key(header::CONTENT_DISPOSITION)) {
        let cookie = format!(
            "told={mark}; Path=/; Max-Age=60; SameSite=Strict{}",
            if https { "; Secure" } else { "" }
        );
        if let Ok(value) = HeaderValue::from_str(&cookie) {
            all.append(header::SET_COOKIE, value);
        }
    }
    if https {
        all.insert(
            HeaderName::from_static("strict-transport-security"),
            HeaderValue::from_static("max-age=63072000"),
        );
    }
    Ok(response)
}

/// A page that waits for a file asks to be told when it is there: `?told=` a mark, which comes back as a cookie with the
/// file's first byte. A script can learn of a download in no other way.
fn asked_to_tell(query: &str) -> Option<String> {
    let mark = query.split('&').find_map(|part| part.strip_prefix("told="))?;
    let is_mark = !mark.is_empty() && mark.len() <= 32 && mark.bytes().all(|byte| byte.is_ascii_hexdigit());
    is_mark.then(|| mark.to_owned())
}

/// One structured line per request: the door's pattern, never the address itself, so no id or token gets into logs.
async fn log(
    request: ServiceRequest,
    next: Next<impl actix_web::body::MessageBody + 'static>,
) -> Result<ServiceResponse<impl actix_web::body::MessageBody>, Error> {
    let began = std::time::Instant::now();
    let method = request.method().clone();
    let response = next.call(request).await?;
    let passed = response.request().extensions().get::<gate::Passed>().map(|passed| passed.0);
    let door = passed.filter(|path| !path.is_empty()).unwrap_or("none");
    let took_us = u64::try_from(began.elapsed().as_micros()).unwrap_or(u64::MAX);
    tracing::info!(method = method.as_str(), door, status = response.status().as_u16(), took_us, "request");
    Ok(response)
}

/// Runs work to its end on a runtime of its own: for commands that use the house without serving it.
pub fn block_on<T>(work: impl Future<Output = T>) -> T {
    actix_web::rt::System::new().block_on(work)
}
