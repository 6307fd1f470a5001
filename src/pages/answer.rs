//! From an outcome to a response: where each `Trouble` becomes a status and a page, and nowhere else.

use actix_web::body::BoxBody;
use actix_web::dev::ServiceResponse;
use actix_web::http::{StatusCode, header};
use actix_web::{HttpResponse, ResponseError, web};

use crate::pages::house::House;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// What a handler gives back.
pub type Reply = Result<HttpResponse, Trouble>;

/// 303: the browser goes on with a GET.
#[must_use]
pub fn see_other(location: impl AsRef<str>) -> HttpResponse {
    HttpResponse::SeeOther().insert_header((header::LOCATION, location.as_ref())).finish()
}

/// 303 with a word on the next page: `key` is one of the catalogue's `done-…` keys.
#[must_use]
pub fn done(location: impl AsRef<str>, key: &str) -> HttpResponse {
    see_other(crate::pages::acts::said(location, key))
}

/// A page of HTML.
#[must_use]
pub fn html(status: StatusCode, body: String) -> HttpResponse {
    HttpResponse::build(status)
        .insert_header((header::CONTENT_TYPE, "text/html; charset=utf-8"))
        .insert_header((header::CACHE_CONTROL, "no-store"))
        .body(body)
}

impl ResponseError for Trouble {
    fn status_code(&self) -> StatusCode {
        match self {
            Self::NotFound => StatusCode::NOT_FOUND,
            Self::SignInFirst | Self::ConfirmFirst => StatusCode::UNAUTHORIZED,
            Self::NotYours | Self::Unsealed => StatusCode::FORBIDDEN,
            Self::Complaints(_) | Self::OnceClash => StatusCode::UNPROCESSABLE_ENTITY,
            Self::Refused(_) | Self::Stale(_) | Self::Taken | Self::Missing => StatusCode::CONFLICT,
            Self::TooLarge(_) => StatusCode::PAYLOAD_TOO_LARGE,
            Self::TooMany { .. } => StatusCode::TOO_MANY_REQUESTS,
            Self::Busy => StatusCode::SERVICE_UNAVAILABLE,
            Self::Broken { .. } => StatusCode::INTERNAL_SERVER_ERROR,
        }
    }

    fn error_response(&self) -> HttpResponse<BoxBody> {
        HttpResponse::new(self.status_code())
    }
}

/// Sentences for a trouble: what happened, and what to do.
#[must_use]
pub fn remarks(trouble: &Trouble) -> Vec<Remark> {
    let key = match trouble {
        Trouble::NotFound => "trouble-not-found",
        Trouble::SignInFirst => "trouble-sign-in-first",
        Trouble::ConfirmFirst => "trouble-confirm-first",
        Trouble::NotYours => "trouble-not-yours",
        Trouble::Unsealed => "trouble-unsealed",
        Trouble::OnceClash => "trouble-once-clash",
        Trouble::Taken => "trouble-taken",
        Trouble::Missing => "trouble-missing",
        Trouble::Busy => "trouble-busy",
        Trouble::Broken { .. } => "trouble-broken",
        Trouble::TooMany { seconds } => {
            let seconds = i64::try_from(*seconds).unwrap_or(i64::MAX);
            return vec![Remark::new("trouble-too-many").with("seconds", seconds)];
        }
        Trouble::Refused(remark) | Trouble::Stale(remark) | Trouble::TooLarge(remark) => {
            return vec![remark.clone()];
        }
        Trouble::Complaints(complaints) => {
            return complaints.iter().map(|complaint| complaint.remark.clone()).collect();
        }
    };
    vec![Remark::new(key)]
}

/// Gives an answer that carries a trouble its page. Somebody who must sign in first is sent there with the way back.
pub async fn with_page(
    house: &web::Data<House>,
    response: ServiceResponse<BoxBody>,
) -> ServiceResponse<BoxBody> {
    let Some(page) = response
        .response()
        .error()
        .and_then(|error| error.as_error::<Trouble>())
        .map(|trouble| page(house, response.request(), trouble))
    else {
        return response;
    };
    let cookies: Vec<_> = response.headers().get_all(header::SET_COOKIE).cloned().collect();
    let (request, _) = response.into_parts();
    let mut response = ServiceResponse::new(request, page);
    for cookie in cookies {
        response.headers_mut().append(header::SET_COOKIE, cookie);
    }
    response
}

fn page(house: &web::Data<House>, request: &actix_web::HttpRequest, trouble: &Trouble) -> HttpResponse {
    if let Trouble::Broken { doing, cause } = trouble {
        tracing::error!(doing, cause, "trouble inside");
    }
    if let (Trouble::SignInFirst, &actix_web::http::Method::GET) = (trouble, request.method()) {
        let path = request.uri().path_and_query().map_or("/", |path| path.as_str());
        return see_other(format!("/sign-in?next={}", encode(path)));
    }
    if let (Trouble::ConfirmFirst, &actix_web::http::Method::GET) = (trouble, request.method()) {
        let path = request.uri().path_and_query().map_or("/", |path| path.as_str());
        return see_other(format!("/account/confirm?next={}", encode(path)));
    }
    let sentences: Vec<String> = remarks(trouble).iter().map(|remark| house.speech.remark(remark)).collect();
    let mut response = if wants_json(request) {
        HttpResponse::build(trouble.status_code())
            .insert_header((header::CACHE_CONTROL, "no-store"))
            .json(serde_json::json!({ "trouble": sentences, "fields": at_fields(house, trouble) }))
    } else {
        let view = serde_json::json!({ "sentences": sentences });
        let ask = crate::pages::entry::ask(request);
        match ask.and_then(|ask| ask.page(trouble.status_code(), "trouble/page", "trouble-title", &view)) {
            Ok(response) => response,
            Err(_) => plain(trouble.status_code(), &sentences),
        }
    };
    if let Trouble::TooMany { seconds } = trouble {
        response.headers_mut().insert(header::RETRY_AFTER, header::HeaderValue::from(*seconds));
    }
    if let Trouble::Busy = trouble {
        response.headers_mut().insert(header::RETRY_AFTER, header::HeaderValue::from(5_u64));
    }
    response
}

/// The sentence at each field that was complained about.
fn at_fields(house: &House, trouble: &Trouble) -> std::collections::BTreeMap<String, String> {
    match trouble {
        Trouble::Complaints(complaints) => complaints
            .iter()
            .map(|complaint| (complaint.field.clone(), house.speech.remark(&complaint.remark)))
            .collect(),
        _ => std::collections::BTreeMap::new(),
    }
}

fn plain(status: StatusCode, sentences: &[String]) -> HttpResponse {
    HttpResponse::build(status)
        .insert_header((header::CONTENT_TYPE, "text/plain; charset=utf-8"))
        .insert_header((header::CACHE_CONTROL, "no-store"))
        .body(sentences.join("\n"))
}

fn wants_json(request: &actix_web::HttpRequest) -> bool {
    request
        .headers()
        .get(header::ACCEPT)
        .and_then(|value| value.to_str().ok())
        .is_some_and(|accept| accept.starts_with("application/json"))
}

/// Percent-encodes a value for the query part of an address.
#[must_use]
pub fn encode(text: &str) -> String {
    use std::fmt::Write;
    text.bytes().fold(String::with_capacity(text.len()), |mut out, byte| {
        if byte.is_ascii_alphanumeric() || b"-._~/".contains(&byte) {
            out.push(char::from(byte));
        } else {
            let _ = write!(out, "%{byte:02X}");
        }
        out
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::speech::Speech;
    use crate::speech::language::Language;
    use crate::trade::spelled::Spelled;

    #[test]
    fn every_trouble_can_be_said_in_every_language() {
        let speech = Speech::load().unwrap();
        let remark = || Remark::new("form-empty");
        let troubles = [
            Trouble::NotFound,
            Trouble::SignInFirst,
            Trouble::ConfirmFirst,
            Trouble::NotYours,
            Trouble::Unsealed,
            Trouble::OnceClash,
            Trouble::Taken,
            Trouble::Missing,
            Trouble::Busy,
            Trouble::broken("trying", "nothing"),
            Trouble::TooMany { seconds: 1 },
            Trouble::TooMany { seconds: 90 },
            Trouble::Refused(remark()),
            Trouble::Stale(remark()),
            Trouble::TooLarge(Remark::new("form-too-large").with("limit", "1 MB")),
            Trouble::about("title", remark()),
        ];
        for trouble in &troubles {
            let [english, spanish] = [Language::English, Language::Spanish].map(|language| {
                language.during(|| {
                    let said = remarks(trouble);
                    said.iter()
                        .map(|remark| speech.say(remark.key, &remark.with).unwrap())
                        .collect::<Vec<_>>()
                })
            });
            assert!(!english.is_empty() && english != spanish, "{trouble:?}: {spanish:?}");
        }
        assert_eq!(Language::ALL.len(), 2, "another language is compared here too");
        let wait = Language::Spanish
            .during(|| remarks(&troubles[10]).iter().map(|one| speech.remark(one)).collect::<String>());
        assert_eq!(wait, "Demasiados intentos. Espere 1 segundo e inténtelo otra vez.");
    }
}
