//! What the post takes for an e-mail address.

use lettre::message::Mailbox;

/// Whether text is an address a letter can be sent to on the open network: a mailbox at a domain with a dot.
#[must_use]
pub fn is_address(text: &str) -> bool {
    text.parse::<lettre::Address>().is_ok_and(|address| address.domain().contains('.'))
}

/// A sender as people write one: `Print studio <studio@college.example>`, the name in quotes or not, or an address alone.
#[must_use]
pub fn sender(text: &str) -> Option<Mailbox> {
    let text = text.trim();
    let Some((name, address)) = text.strip_suffix('>').and_then(|rest| rest.rsplit_once('<')) else {
        return text.parse().ok().map(|address| Mailbox::new(None, address));
    };
    let name = name.trim();
    let name = name.strip_prefix('"').and_then(|name| name.strip_suffix('"')).unwrap_or(name);
    if name.chars().any(char::is_control) {
        return None;
    }
    let name = (!name.is_empty()).then(|| name.to_owned());
    address.trim().parse().ok().map(|address| Mailbox::new(name, address))
}

#[cfg(test)]
mod tests {
    use super::{is_address, sender};

    #[test]
    fn a_sender_is_a_name_and_an_address_or_an_address() {
        for (text, name, address) in [
            ("studio@college.example", None, "studio@college.example"),
            ("<studio@college.example>", None, "studio@college.example"),
            (
                "Print studio, Alder Hill <studio@college.example>",
                Some("Print studio, Alder Hill"),
                "studio@college.example",
            ),
            ("\"Print studio\" <tympan@localhost>", Some("Print studio"), "tympan@localhost"),
        ] {
            let read = sender(text).unwrap();
            assert_eq!((read.name.as_deref(), read.email.to_string().as_str()), (name, address), "{text}");
        }
        for bad in
            ["", "the studio", "studio <>", "<a@b.example", "a\r\nBcc: b <a@b.example>", "a@b@c.example"]
        {
            assert!(sender(bad).is_none(), "{bad}");
        }
    }

    #[test]
    fn a_mailbox_at_a_domain_is_an_address() {
        for fine in ["a@b.example", "first.last+tag@dept.college.example", "zoë@college.example"] {
            assert!(is_address(fine), "{fine}");
        }
        for bad in
            ["", "a", "a@", "@b.example", "a b@c.example", "a@localhost", "a@b.example\r\nBcc: x@y.example"]
        {
            assert!(!is_address(bad), "{bad}");
        }
    }
}
