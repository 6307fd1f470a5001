//! Stopping a kind of letter by one click (RFC 8058): the address names the person and cannot be forged, and needs no
//! session. Only the daily letter can be stopped; what concerns an account cannot.

use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use subtle::ConstantTimeEq;

use crate::ids::PersonId;
use crate::secrets::ServerKey;
use crate::store::letters::Kind;

const PURPOSE: &str = "stop daily letter";
const ID: usize = 36;
/// 128 bits of the code are enough for what one can only turn off.
const CODE: usize = 16;

/// Whether a kind of letter can be stopped.
#[must_use]
pub const fn may_stop(kind: Kind) -> bool {
    matches!(kind, Kind::Daily)
}

/// Where a person stops their daily letter.
#[must_use]
pub fn address(key: &ServerKey, public_url: &str, person: PersonId) -> String {
    format!("{public_url}/letters/stop/{}", secret(key, person))
}

fn secret(key: &ServerKey, person: PersonId) -> String {
    let mut bytes = person.as_str().as_bytes().to_vec();
    bytes.extend(code(key, person));
    URL_SAFE_NO_PAD.encode(bytes)
}

fn code(key: &ServerKey, person: PersonId) -> Vec<u8> {
    key.derive(PURPOSE, &[person.as_str().as_bytes()]).into_iter().take(CODE).collect()
}

/// The person an address was made for.
#[must_use]
pub fn person_of(key: &ServerKey, secret: &str) -> Option<PersonId> {
    let bytes = URL_SAFE_NO_PAD.decode(secret).ok()?;
    let (id, given) = bytes.split_at_checked(ID)?;
    let person: PersonId = std::str::from_utf8(id).ok()?.parse().ok()?;
    bool::from(code(key, person).ct_eq(given)).then_some(person)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clock::Instant;
    use crate::ids::Id;

    #[test]
    fn an_address_names_its_person_and_cannot_be_forged() {
        let key = ServerKey::from_bytes([7; 32]);
        let (one, other): (PersonId, PersonId) =
            (Id::new(Instant::from_millis(1)), Id::new(Instant::from_millis(2)));
        let address = address(&key, "https://t.example", one);
        let text = address.strip_prefix("https://t.example/letters/stop/").unwrap();
        assert_eq!(person_of(&key, text), Some(one));
        assert_eq!(person_of(&ServerKey::from_bytes([8; 32]), text), None);
        let mut forged = other.as_str().as_bytes().to_vec();
        forged.extend(code(&key, one));
        assert_eq!(person_of(&key, &URL_SAFE_NO_PAD.encode(forged)), None);
        for bad in ["", "no-such-secret", "AAAA", &text[..text.len() - 2]] {
            assert_eq!(person_of(&key, bad), None, "{bad}");
        }
    }
}
