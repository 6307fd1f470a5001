//! The studio's letters: the post over its house with a transport of the test's choice, and a small reader of messages.

use std::sync::Arc;

use base64::Engine;
use tympan::post::runner::{Delivery, Post};
use tympan::post::transport::{Memory, Sealed, Transport};

use super::Studio;

/// A letter as its reader sees it.
#[derive(Debug, Clone)]
pub struct Mail {
    pub to: String,
    pub head: String,
    pub text: String,
    pub html: String,
}

impl Mail {
    /// Takes a message of ours apart.
    pub fn read(sealed: &Sealed) -> Self {
        let whole = String::from_utf8(sealed.bytes.clone()).unwrap();
        let (head, body) = whole.split_once("\r\n\r\n").unwrap();
        let (_, boundary) = head.split_once("boundary=\"").unwrap();
        let boundary = boundary.split('"').next().unwrap();
        let parts: Vec<String> = body.split(&format!("--{boundary}")).skip(1).take(2).map(part).collect();
        Self {
            to: sealed.envelope.to()[0].to_string(),
            head: head.to_owned(),
            text: parts[0].clone(),
            html: parts[1].clone(),
        }
    }

    /// One header's value as it is written, folding undone.
    pub fn header(&self, name: &str) -> Option<String> {
        let unfolded = self.head.replace("\r\n ", " ");
        let line = unfolded.lines().find(|line| line.starts_with(&format!("{name}: ")))?;
        Some(line[name.len() + 2..].to_owned())
    }

    /// The first address in the text that leads to our own `path`.
    pub fn address(&self, path: &str) -> String {
        let at = self.text.find(path).unwrap_or_else(|| panic!("no {path} in {}", self.text));
        self.text[at..].split_whitespace().next().unwrap().to_owned()
    }
}

fn part(raw: &str) -> String {
    let (head, body) = raw.split_once("\r\n\r\n").unwrap();
    let bytes = if head.contains("base64") {
        let text: String = body.split_whitespace().collect();
        base64::engine::general_purpose::STANDARD.decode(text).unwrap()
    } else if head.contains("quoted-printable") {
        quoted_printable(body)
    } else {
        body.as_bytes().to_vec()
    };
    String::from_utf8(bytes).unwrap().replace("\r\n", "\n")
}

fn quoted_printable(body: &str) -> Vec<u8> {
    let mut out = Vec::new();
    let joined = body.replace("=\r\n", "");
    let mut bytes = joined.bytes();
    while let Some(byte) = bytes.next() {
        if byte == b'=' {
            let pair = [bytes.next().unwrap(), bytes.next().unwrap()];
            out.push(u8::from_str_radix(std::str::from_utf8(&pair).unwrap(), 16).unwrap());
        } else {
            out.push(byte);
        }
    }
    out
}

pub fn block<T>(work: impl Future<Output = T>) -> T {
    actix_web::rt::System::new().block_on(work)
}

impl Studio {
    /// The post of this studio with a transport of the test's own.
    pub fn post(&self, transport: Arc<dyn Transport>) -> Post {
        let house = &self.house;
        let (db, clock, key) = (house.db.clone(), house.clock.clone(), house.key.clone());
        Post::new(&house.settings, db, clock, key, house.speech.clone(), transport).unwrap()
    }

    /// Delivers everything that waits, and gives it to read.
    pub fn letters(&self) -> Vec<Mail> {
        let memory = Memory::default();
        let post = self.post(Arc::new(memory.clone()));
        block(post.deliver_all()).unwrap();
        memory.taken().iter().map(Mail::read).collect()
    }

    /// Takes one letter through to its end.
    pub fn deliver_one(&self, transport: &(impl Transport + Clone + 'static)) -> Delivery {
        block(self.post(Arc::new(transport.clone())).deliver_one()).unwrap()
    }
}
