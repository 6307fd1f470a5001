//! The message itself: headers and two parts, RFC 5322, 2045 to 2047, 3834 and 8058. Everything that comes from people is
//! made one line before it goes near a header.

use std::time::{Duration, SystemTime};

use lettre::address::{Address, Envelope};
use lettre::message::header::{ContentType, HeaderName, HeaderValue};
use lettre::message::{Mailbox, Message, MultiPart, SinglePart};

use crate::clock::Instant;
use crate::ids::LetterId;
use crate::post::letters::layout::one_line;
use crate::post::transport::Sealed;
use crate::store::letters::outbox::Addressee;
use crate::trouble::Trouble;

/// What is put into the envelope.
#[derive(Debug)]
pub struct Page {
    pub id: LetterId,
    pub to: Mailbox,
    pub subject: String,
    pub text: String,
    pub html: String,
    /// Where this kind of letter is stopped by one click.
    pub stop: Option<String>,
}

/// A person's mailbox.
///
/// # Errors
/// There is no address, or it is none.
pub fn mailbox(to: &Addressee) -> Result<Mailbox, Trouble> {
    let address: Address = to
        .email
        .as_deref()
        .unwrap_or_default()
        .parse()
        .map_err(|error| Trouble::broken("addressing a letter", error))?;
    let name: String = format!("{} {}", to.given_name, to.family_name)
        .chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    let name = one_line(&name);
    Ok(Mailbox::new((!name.is_empty()).then_some(name), address))
}

/// The host of a public address, as it stands in a Message-ID: without scheme, port and path.
#[must_use]
pub fn host_of(public_url: &str) -> &str {
    let rest = public_url.split_once("://").map_or(public_url, |(_, rest)| rest);
    let place = rest.split('/').next().unwrap_or_default();
    match place.rsplit_once(':') {
        Some((host, port)) if port.bytes().all(|byte| byte.is_ascii_digit()) => host,
        _ => place,
    }
}

/// Writes the whole message.
///
/// # Errors
/// A header cannot be written.
pub fn seal(page: Page, from: &Mailbox, public_url: &str, now: Instant) -> Result<Sealed, Trouble> {
    let broken = |error: lettre::error::Error| Trouble::broken("writing a letter", error);
    let envelope = Envelope::new(Some(from.email.clone()), vec![page.to.email.clone()]).map_err(broken)?;
    let mut builder = Message::builder()
        .envelope(envelope.clone())
        .from(from.clone())
        .to(page.to)
        .subject(one_line(&page.subject))
        .date(moment(now))
        .message_id(Some(format!("<{}@{}>", page.id, host_of(public_url))))
        .raw_header(header("Auto-Submitted", "auto-generated"));
    // RFC 8058, 3.1 wants an address of https; on a machine of one's own there is none.
    if let Some(stop) = page.stop.filter(|stop| stop.starts_with("https://")) {
        builder = builder
            .raw_header(header("List-Unsubscribe", &format!("<{stop}>")))
            .raw_header(header("List-Unsubscribe-Post", "List-Unsubscribe=One-Click"));
    }
    let parts = MultiPart::alternative()
        .singlepart(SinglePart::builder().header(ContentType::TEXT_PLAIN).body(page.text))
        .singlepart(SinglePart::builder().header(ContentType::TEXT_HTML).body(page.html));
    let message = builder.multipart(parts).map_err(broken)?.formatted();
    let message = String::from_utf8(message).map_err(|error| Trouble::broken("writing a letter", error))?;
    Ok(Sealed { id: page.id, envelope, bytes: folded(&message).into_bytes() })
}

/// The message with every address on a line of its own where the name before it has filled the line: a line with an
/// encoded word is at most 76 characters long (RFC 2047, 2), and the library counts the name alone.
fn folded(message: &str) -> String {
    let Some((head, body)) = message.split_once("\r\n\r\n") else { return message.to_owned() };
    let mut out = String::with_capacity(message.len() + 8);
    for line in head.split("\r\n") {
        let name_ends = ["?= <", "\" <"].iter().find_map(|end| line.rfind(end).map(|at| at + 2));
        match name_ends.filter(|_| line.len() > 76).and_then(|at| line.split_at_checked(at)) {
            Some((name, address)) => out.extend([name, "\r\n", address, "\r\n"]),
            None => out.extend([line, "\r\n"]),
        }
    }
    out.push_str("\r\n");
    out.push_str(body);
    out
}

fn header(name: &'static str, value: &str) -> HeaderValue {
    HeaderValue::new(HeaderName::new_from_ascii_str(name), value.to_owned())
}

fn moment(now: Instant) -> SystemTime {
    let millis = u64::try_from(now.millis()).unwrap_or(0);
    SystemTime::UNIX_EPOCH + Duration::from_millis(millis)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn addressee(given: &str, family: &str, email: &str) -> Addressee {
        Addressee {
            language: None,
            given_name: given.into(),
            family_name: family.into(),
            email: Some(email.into()),
            wants: crate::store::letters::outbox::Wants {
                daily: true,
                urgent: true,
                week: true,
                handed_back: true,
                due_moved: true,
                second_look_asked: true,
                second_look_answered: true,
                grade_submitted: true,
            },
            mailbox: crate::store::letters::resting::Mailbox { refusals: 0, rests_since: None },
            school: "Alder Hill".into(),
            class: None,
        }
    }

    fn sealed(to: &Addressee, subject: &str, url: &str) -> String {
        let page = Page {
            id: "0198c0de-0000-7000-8000-000000000001".parse().unwrap(),
            to: mailbox(to).unwrap(),
            subject: subject.into(),
            text: "Text.\n".into(),
            html: "<p>Text.</p>".into(),
            stop: Some(format!("{url}/letters/stop/abc")),
        };
        let from = "Print studio <studio@college.example>".parse().unwrap();
        let at = Instant::from_millis(1_792_504_800_000);
        String::from_utf8(seal(page, &from, url, at).unwrap().bytes).unwrap()
    }

    #[test]
    fn the_headers_are_those_of_the_standards() {
        let bytes =
            sealed(&addressee("Sami", "Vale", "sami@college.example"), "Next", "https://t.example:8443");
        for line in [
            "From: \"Print studio\" <studio@college.example>",
            "To: \"Sami Vale\" <sami@college.example>",
            "Subject: Next",
            "Date: Tue, 20 Oct 2026 14:00:00 +0000",
            "Message-ID: <0198c0de-0000-7000-8000-000000000001@t.example>",
            "Auto-Submitted: auto-generated",
            "List-Unsubscribe: <https://t.example:8443/letters/stop/abc>",
            "List-Unsubscribe-Post: List-Unsubscribe=One-Click",
            "MIME-Version: 1.0",
        ] {
            assert_eq!(bytes.matches(&format!("{line}\r\n")).count(), 1, "{line} in\n{bytes}");
        }
        let text = bytes.find("text/plain").unwrap();
        assert!(
            bytes.find("multipart/alternative").unwrap() < text && text < bytes.find("text/html").unwrap()
        );
        let local = sealed(&addressee("S", "V", "s@college.example"), "N", "http://127.0.0.1:8080");
        assert!(!local.contains("List-Unsubscribe"), "{local}");
    }

    #[test]
    fn nothing_typed_can_become_a_header() {
        let to = addressee(
            "Ev\r\nBcc: all@college.example\r\n",
            "O'Hara \"x\" <y@z.example>,",
            "e@college.example",
        );
        let bytes = sealed(&to, "A\r\n\r\nbody", "https://t.example");
        let head = bytes.split("\r\n\r\n").next().unwrap();
        assert!(!head.contains("\nBcc") && head.contains("Subject: A"), "{head}");
        assert_eq!(head.matches("\nTo: ").count(), 1);
        assert!(bytes.is_ascii());
    }

    #[test]
    fn names_of_every_script_are_encoded_in_lines_that_are_short() {
        for name in [
            "Zoë",
            "Ana Święta z Bardzo Długim Nazwiskiem",
            "Łucja Żółć-Świętosława von und zu der sehr langen Familie",
            "李小龍",
            "محمد",
        ] {
            let bytes = sealed(&addressee(name, "Vale", "v@college.example"), name, "https://t.example");
            assert!(bytes.is_ascii(), "{name}");
            assert!(bytes.lines().all(|line| line.len() <= 76), "{bytes}");
            assert!(bytes.contains("To: =?utf-8?b?"), "{bytes}");
        }
    }

    #[test]
    fn the_host_is_read_from_the_public_address() {
        for (url, host) in [
            ("https://tympan.example", "tympan.example"),
            ("http://127.0.0.1:8080", "127.0.0.1"),
            ("http://[::1]:8080", "[::1]"),
            ("https://tympan.example/print/", "tympan.example"),
        ] {
            assert_eq!(host_of(url), host);
        }
    }
}
