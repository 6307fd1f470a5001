//! A visitor with a browser's habits: keeps cookies, sends the seal of its pages, does not follow redirects.

use std::cell::RefCell;
use std::collections::BTreeMap;

use ureq::Agent;

/// An answer.
#[derive(Debug)]
pub struct Page {
    pub status: u16,
    pub headers: BTreeMap<String, String>,
    pub body: Vec<u8>,
    /// Every cookie the answer sets, as it is written.
    pub cookies_set: Vec<String>,
}

impl Page {
    pub fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }

    pub fn has(&self, part: &str) -> bool {
        self.text().contains(part)
    }

    pub fn location(&self) -> &str {
        self.headers.get("location").map_or("", String::as_str)
    }

    /// The files of a zip file, by name.
    pub fn unpacked(&self) -> BTreeMap<String, String> {
        let mut zip = zip::ZipArchive::new(std::io::Cursor::new(&self.body)).unwrap();
        let mut all = BTreeMap::new();
        for at in 0..zip.len() {
            let mut file = zip.by_index(at).unwrap();
            let mut bytes = Vec::new();
            std::io::Read::read_to_end(&mut file, &mut bytes).unwrap();
            let name = String::from_utf8_lossy(file.name_raw()).into_owned();
            all.insert(name, String::from_utf8_lossy(&bytes).into_owned());
        }
        all
    }

    /// The text without tags and with runs of white space made one: what a reader reads.
    pub fn read(&self) -> String {
        plain(&self.text())
    }
}

/// HTML as it is read.
pub fn plain(html: &str) -> String {
    let mut out = String::new();
    let mut inside = false;
    for c in html.chars() {
        match c {
            '<' => inside = true,
            '>' => {
                inside = false;
                out.push(' ');
            }
            c if !inside => out.push(c),
            _ => {}
        }
    }
    let out = out
        .replace("&quot;", "\"")
        .replace("&#x27;", "'")
        .replace("&#39;", "'")
        .replace("&#x3D;", "=")
        .replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&amp;", "&")
        .replace("&nbsp;", " ");
    out.split_whitespace().collect::<Vec<_>>().join(" ")
}

pub struct Visitor {
    base: String,
    agent: Agent,
    cookies: RefCell<BTreeMap<String, String>>,
    seal: RefCell<Option<String>>,
}

impl Visitor {
    pub fn new(base: &str) -> Self {
        let agent = Agent::config_builder()
            .max_redirects(0)
            .http_status_as_error(false)
            .timeout_global(Some(std::time::Duration::from_secs(60)))
            .build()
            .new_agent();
        Self {
            base: base.to_owned(),
            agent,
            cookies: RefCell::new(BTreeMap::new()),
            seal: RefCell::new(None),
        }
    }

    /// Another tab of the same browser: its cookies and its seal, for a thread of its own.
    pub fn copied(&self) -> Self {
        let other = Self::new(&self.base);
        *other.cookies.borrow_mut() = self.cookies.borrow().clone();
        *other.seal.borrow_mut() = Some(self.seal());
        other
    }

    fn cookie_header(&self) -> String {
        let cookies = self.cookies.borrow();
        cookies.iter().map(|(name, value)| format!("{name}={value}")).collect::<Vec<_>>().join("; ")
    }

    fn take(&self, response: ureq::http::Response<ureq::Body>) -> Page {
        let (parts, mut body) = response.into_parts();
        let cookies_set = parts
            .headers
            .get_all("set-cookie")
            .iter()
            .map(|value| value.to_str().unwrap().to_owned())
            .collect();
        for value in parts.headers.get_all("set-cookie") {
            let text = value.to_str().unwrap();
            let (name, rest) = text.split_once('=').unwrap();
            let value = rest.split(';').next().unwrap();
            if value.is_empty() {
                self.cookies.borrow_mut().remove(name);
            } else {
                self.cookies.borrow_mut().insert(name.to_owned(), value.to_owned());
            }
            // A seal belongs to a session; with another session another seal.
            *self.seal.borrow_mut() = None;
        }
        let headers = parts
            .headers
            .iter()
            .map(|(name, value)| (name.to_string(), value.to_str().unwrap_or_default().to_owned()))
            .collect();
        let body = body.with_config().limit(200 * 1024 * 1024).read_to_vec().unwrap();
        Page { status: parts.status.as_u16(), headers, body, cookies_set }
    }

    pub fn get(&self, path: &str) -> Page {
        self.get_with(path, &[])
    }

    /// Asks with more headers.
    pub fn get_with(&self, path: &str, headers: &[(&str, &str)]) -> Page {
        let mut request =
            self.agent.get(format!("{}{path}", self.base)).header("cookie", self.cookie_header());
        for (name, value) in headers {
            request = request.header(*name, *value);
        }
        self.take(request.call().unwrap())
    }

    /// The cookies as the browser would send them.
    pub fn cookies(&self) -> String {
        self.cookie_header()
    }

    /// The value of a cookie.
    pub fn cookie(&self, name: &str) -> Option<String> {
        self.cookies.borrow().get(name).cloned()
    }

    /// Sets a cookie, as a thief would.
    pub fn set_cookie(&self, name: &str, value: &str) {
        self.cookies.borrow_mut().insert(name.to_owned(), value.to_owned());
        *self.seal.borrow_mut() = None;
    }

    /// The seal that this visitor's pages carry.
    pub fn seal(&self) -> String {
        if let Some(seal) = self.seal.borrow().as_ref() {
            return seal.clone();
        }
        let page = self.get("/sign-in").text();
        let (_, rest) = page.split_once("name=\"seal\" value=\"").expect("a form on the sign-in page");
        let seal = rest.split('"').next().unwrap().to_owned();
        *self.seal.borrow_mut() = Some(seal.clone());
        seal
    }

    /// Sends a form with its seal and a fresh once-key.
    pub fn post(&self, path: &str, fields: &[(&str, &str)]) -> Page {
        let once = uuid::Uuid::now_v7().to_string();
        self.post_once(path, fields, &once)
    }

    /// Sends a form with a given once-key.
    pub fn post_once(&self, path: &str, fields: &[(&str, &str)], once: &str) -> Page {
        let seal = self.seal();
        let mut all = vec![("seal", seal.as_str()), ("once", once)];
        all.extend_from_slice(fields);
        self.post_bare(path, &all)
    }

    /// Sends exactly these fields: no seal unless it is among them.
    pub fn post_bare(&self, path: &str, fields: &[(&str, &str)]) -> Page {
        self.post_with(path, fields, &[])
    }

    /// Sends exactly these fields with more headers.
    pub fn post_with(&self, path: &str, fields: &[(&str, &str)], headers: &[(&str, &str)]) -> Page {
        let body = fields
            .iter()
            .map(|(name, value)| format!("{}={}", encode(name), encode(value)))
            .collect::<Vec<_>>()
            .join("&");
        let mut request = self
            .agent
            .post(format!("{}{path}", self.base))
            .header("cookie", self.cookie_header())
            .header("content-type", "application/x-www-form-urlencoded");
        for (name, value) in headers {
            request = request.header(*name, *value);
        }
        self.take(request.send(body.as_bytes()).unwrap())
    }

    /// Sends a multipart form: the seal first, fields, then one file.
    pub fn upload(&self, path: &str, fields: &[(&str, &str)], file: (&str, &str, &[u8])) -> Page {
        self.upload_sealed(&self.seal(), path, fields, file)
    }

    /// Sends a multipart form with this seal.
    pub fn upload_sealed(
        &self,
        seal: &str,
        path: &str,
        fields: &[(&str, &str)],
        file: (&str, &str, &[u8]),
    ) -> Page {
        self.upload_once(seal, &uuid::Uuid::now_v7().to_string(), path, fields, file)
    }

    /// Sends a multipart form with this seal and once-key.
    pub fn upload_once(
        &self,
        seal: &str,
        once: &str,
        path: &str,
        fields: &[(&str, &str)],
        file: (&str, &str, &[u8]),
    ) -> Page {
        let border = "tympan-test-border-7f3a";
        let mut body = Vec::new();
        let own = [("seal", seal), ("once", once)];
        for (name, value) in own.iter().chain(fields) {
            body.extend_from_slice(
                format!("--{border}\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n")
                    .as_bytes(),
            );
        }
        let (field, name, bytes) = file;
        body.extend_from_slice(
            format!(
                "--{border}\r\nContent-Disposition: form-data; name=\"{field}\"; filename=\"{name}\"\r\n\
                 Content-Type: application/octet-stream\r\n\r\n"
            )
            .as_bytes(),
        );
        body.extend_from_slice(bytes);
        body.extend_from_slice(format!("\r\n--{border}--\r\n").as_bytes());
        let response = self
            .agent
            .post(format!("{}{path}", self.base))
            .header("cookie", self.cookie_header())
            .header("content-type", format!("multipart/form-data; boundary={border}"))
            .send(&body[..])
            .unwrap();
        self.take(response)
    }
}

fn encode(text: &str) -> String {
    text.bytes().fold(String::new(), |mut out, byte| {
        if byte.is_ascii_alphanumeric() || b"-._".contains(&byte) {
            out.push(char::from(byte));
        } else {
            out.push_str(&format!("%{byte:02X}"));
        }
        out
    })
}
