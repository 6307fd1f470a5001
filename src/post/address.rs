//! What the post takes for an e-mail address.

/// Whether text is an address a letter can be sent to on the open network: a mailbox at a domain with a dot.
#[must_use]
pub fn is_address(text: &str) -> bool {
    text.parse::<lettre::Address>().is_ok_and(|address| address.domain().contains('.'))
}

#[cfg(test)]
mod tests {
    use super::is_address;

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
