//! A form with a file in it, as browsers send it (multipart/form-data, RFC 7578). The gate has looked at session and
//! right before any of this is read; the seal must be the first part, so nothing of a forged form is kept either.

use std::pin::Pin;
use std::time::Duration;

use actix_multipart::{Field, Multipart, MultipartError};
use actix_web::dev::Payload;
use actix_web::http::header::{self, HeaderMap};
use actix_web::{FromRequest, HttpRequest};
use futures_util::TryStreamExt;

use crate::pages::entry::{self, Ask};
use crate::pages::forms::Filled;
use crate::secrets::sha256_hex;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// Most parts of one form.
const MOST_PARTS: usize = 2_000;
/// What is read past a limit and thrown away, so that the browser comes to read the answer: 64 MiB.
const MOST_DISCARDED: usize = 64 * 1024 * 1024;
/// How long a part may be waited for when the file is too large anyway.
const WORDS_WITHIN: Duration = Duration::from_secs(5);

/// A form and its file. `FILE` is the most bytes of the file, `FIELDS` the most of everything else together; more is
/// `Trouble::TooLarge`. A form sent without multipart is read as `Filled` reads it and has no file.
///
/// What is wrong with the file or a field stands in `refusal` beside all that was typed, so that a page can show the
/// form again as it was; `fit` hands on what can be used. Only a form without its seal, or one that broke off, is lost.
///
/// The form's once-key covers the file too: its SHA-256 stands among the pairs under the file field's name.
#[derive(Debug)]
pub struct Upload<const FILE: usize, const FIELDS: usize = 65_536> {
    pub filled: Filled,
    /// None: no file was chosen.
    pub file: Option<UploadedFile>,
    pub refusal: Option<Trouble>,
}

impl<const FILE: usize, const FIELDS: usize> Upload<FILE, FIELDS> {
    /// What was typed, and beside it the file or why the form cannot be used.
    pub fn fit(self) -> (Filled, Result<Option<UploadedFile>, Trouble>) {
        let file = self.refusal.map_or(Ok(self.file), Err);
        (self.filled, file)
    }
}

/// A file as it arrived, perhaps of no bytes. The name is what the sender says: for showing, never for a path.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UploadedFile {
    pub name: String,
    pub bytes: Vec<u8>,
}

impl<const FILE: usize, const FIELDS: usize> FromRequest for Upload<FILE, FIELDS> {
    type Error = Trouble;
    type Future = Pin<Box<dyn Future<Output = Result<Self, Trouble>>>>;

    fn from_request(request: &HttpRequest, payload: &mut Payload) -> Self::Future {
        if !is_multipart(request.headers()) {
            let filled = Filled::from_request(request, payload);
            return Box::pin(async move { Ok(Self { filled: filled.await?, file: None, refusal: None }) });
        }
        let ask = entry::ask(request);
        let told = told_length(request.headers());
        let parts = Multipart::new(request.headers(), payload.take());
        Box::pin(async move {
            let ask = ask?;
            let mut reading = Reading::new(FILE, FIELDS);
            // Longer than this form can be: the words are read, the file is not.
            reading.keeps_file = told.is_none_or(|told| told <= FILE.saturating_add(FIELDS));
            let (pairs, file) = reading.all(&ask, parts).await?;
            Ok(Self { filled: Filled::sealed(&ask, pairs)?, file, refusal: reading.refusal })
        })
    }
}

/// How long the body is, by what its sender says.
#[must_use]
pub fn told_length(headers: &HeaderMap) -> Option<usize> {
    headers.get(header::CONTENT_LENGTH)?.to_str().ok()?.parse().ok()
}

fn is_multipart(headers: &HeaderMap) -> bool {
    headers
        .get(header::CONTENT_TYPE)
        .and_then(|value| value.to_str().ok())
        .is_some_and(|kind| kind.trim_start().to_ascii_lowercase().starts_with("multipart/"))
}

type Parts = (Vec<(String, String)>, Option<UploadedFile>);

/// The reading of one form, with what may still be read.
struct Reading {
    most_file: usize,
    keeps_file: bool,
    fields_left: usize,
    discarded: usize,
    /// The first thing wrong with the form; the rest is then read only to come to its end.
    refusal: Option<Trouble>,
}

impl Reading {
    fn new(most_file: usize, fields_left: usize) -> Self {
        Self { most_file, keeps_file: true, fields_left, discarded: 0, refusal: None }
    }

    async fn all(&mut self, ask: &Ask, mut parts: Multipart) -> Result<Parts, Trouble> {
        let mut pairs: Vec<(String, String)> = Vec::new();
        let mut file = None;
        while let Some(mut part) = self.next(&mut parts).await? {
            let name = part.name().unwrap_or_default().to_owned();
            if pairs.is_empty() {
                pairs.push(("seal".to_owned(), self.seal(ask, &name, &mut part).await?));
                continue;
            }
            if pairs.len() >= MOST_PARTS {
                return Err(Trouble::about("", Remark::new("form-too-many-parts")));
            }
            match file_name(&part) {
                None => {
                    let text = self.field(&mut part).await?;
                    pairs.push((name, text));
                }
                Some(file_name) => {
                    let bytes = self.file(&name, &mut part).await?;
                    // A browser sends an unused file field without a name; a file of no bytes has one.
                    if bytes.is_empty() && file_name.is_empty() {
                        continue;
                    }
                    if file.is_some() {
                        self.refuse(Trouble::about(name.as_str(), Remark::new("form-one-file")));
                    }
                    pairs.push((name, sha256_hex(&bytes)));
                    file = Some(UploadedFile { name: file_name, bytes });
                }
            }
        }
        Ok((pairs, file))
    }

    /// The next part. Nothing is waited for that lies past the most that is thrown away; nor, where the file is too large
    /// anyway, for a sender who does not send.
    async fn next(&mut self, parts: &mut Multipart) -> Result<Option<Field>, Trouble> {
        if self.discarded > MOST_DISCARDED {
            return Ok(None);
        }
        if self.keeps_file {
            return parts.try_next().await.map_err(cut_short);
        }
        match tokio::time::timeout(WORDS_WITHIN, parts.try_next()).await {
            Ok(part) => part.map_err(cut_short),
            Err(_elapsed) => Ok(None),
        }
    }

    /// The first part. Without a seal that holds, nothing more is read.
    async fn seal(&mut self, ask: &Ask, name: &str, part: &mut Field) -> Result<String, Trouble> {
        if name != "seal" || file_name(part).is_some() {
            return Err(Trouble::Unsealed);
        }
        let (seal, _) = self.bytes(part, 1024).await?;
        let seal = String::from_utf8(seal).unwrap_or_default();
        if ask.house.key.seal_holds(&ask.found.visitor, &seal) { Ok(seal) } else { Err(Trouble::Unsealed) }
    }

    async fn field(&mut self, part: &mut Field) -> Result<String, Trouble> {
        let (bytes, whole) = self.bytes(part, self.fields_left).await?;
        self.fields_left = self.fields_left.saturating_sub(bytes.len());
        if !whole {
            self.refuse(Trouble::TooLarge(Remark::new("form-fields-too-large")));
        }
        match String::from_utf8(bytes) {
            Ok(text) => Ok(text),
            Err(_) => {
                self.refuse(Trouble::about("", Remark::new("form-not-utf8")));
                Ok(String::new())
            }
        }
    }

    async fn file(&mut self, name: &str, part: &mut Field) -> Result<Vec<u8>, Trouble> {
        let most = if self.keeps_file { self.most_file } else { 0 };
        let (bytes, whole) = self.bytes(part, most).await?;
        if !whole {
            self.refuse(file_too_large(name, self.most_file));
        }
        Ok(bytes)
    }

    fn refuse(&mut self, trouble: Trouble) {
        self.refusal.get_or_insert(trouble);
    }

    /// The bytes of a part up to a limit, and whether that is all of it.
    async fn bytes(&mut self, part: &mut Field, most: usize) -> Result<(Vec<u8>, bool), Trouble> {
        let (mut bytes, mut whole) = (Vec::new(), true);
        while let Some(piece) = part.try_next().await.map_err(cut_short)? {
            if whole && bytes.len().saturating_add(piece.len()) <= most {
                bytes.extend_from_slice(&piece);
                continue;
            }
            whole = false;
            bytes = Vec::new();
            self.discarded = self.discarded.saturating_add(piece.len());
            if self.discarded > MOST_DISCARDED {
                break;
            }
        }
        Ok((bytes, whole))
    }
}

fn file_name(part: &Field) -> Option<String> {
    let about = part.content_disposition()?;
    let extended = || about.get_filename_ext().map(|name| String::from_utf8_lossy(&name.value).into_owned());
    about.get_filename().map(str::to_owned).or_else(extended)
}

fn file_too_large(field: &str, most: usize) -> Trouble {
    let most = i64::try_from(most).unwrap_or(i64::MAX);
    Trouble::about(field, Remark::new("form-file-too-large").with("megabytes", most / 1_000_000))
}

fn cut_short(error: MultipartError) -> Trouble {
    tracing::warn!(%error, "reading a form with a file");
    Trouble::about("", Remark::new("form-cut-short"))
}
