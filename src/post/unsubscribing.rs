//! Stopping a kind of letter by one click (RFC 8058): the address names the person and the kind, cannot be forged, and
//! needs no session. What concerns an account cannot be stopped.

use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use subtle::ConstantTimeEq;

use crate::ids::PersonId;
use crate::secrets::ServerKey;
use crate::store::letters::Kind;
use crate::trade::spelled::Spelled;

const ID: usize = 36;
/// 128 bits of the code are enough for what one can only turn off.
const CODE: usize = 16;

/// Where a person stops letters of a kind; none for a kind that cannot be stopped.
#[must_use]
pub fn address(key: &ServerKey, public_url: &str, person: PersonId, kind: Kind) -> Option<String> {
    kind.may_stop().then(|| format!("{public_url}/letters/stop/{}", secret(key, person, kind)))
}

/// Person, code, and the kind's word; nothing for the daily letter, whose addresses were first.
fn secret(key: &ServerKey, person: PersonId, kind: Kind) -> String {
    let mut bytes = person.as_str().as_bytes().to_vec();
    bytes.extend(code(key, person, kind));
    if kind != Kind::Daily {
        bytes.extend(kind.word().as_bytes());
    }
    URL_SAFE_NO_PAD.encode(bytes)
}

fn code(key: &ServerKey, person: PersonId, kind: Kind) -> Vec<u8> {
    let purpose = format!("stop {} letter", kind.word());
    key.derive(&purpose, &[person.as_str().as_bytes()]).into_iter().take(CODE).collect()
}

/// The person and the kind an address was made for.
#[must_use]
pub fn meant(key: &ServerKey, secret: &str) -> Option<(PersonId, Kind)> {
    let bytes = URL_SAFE_NO_PAD.decode(secret).ok()?;
    let (id, rest) = bytes.split_at_checked(ID)?;
    let (given, word) = rest.split_at_checked(CODE)?;
    let person: PersonId = std::str::from_utf8(id).ok()?.parse().ok()?;
    let kind = match word {
        [] => Kind::Daily,
        word => Kind::from_word(std::str::from_utf8(word).ok()?)?,
    };
    let holds = bool::from(code(key, person, kind).ct_eq(given));
    (holds && kind.may_stop()).then_some((person, kind))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clock::Instant;
    use crate::ids::Id;

    #[test]
    fn an_address_names_its_person_and_kind_and_cannot_be_forged() {
        let key = ServerKey::from_bytes([7; 32]);
        let (one, other): (PersonId, PersonId) =
            (Id::new(Instant::from_millis(1)), Id::new(Instant::from_millis(2)));
        for kind in Kind::ALL {
            let Some(address) = address(&key, "https://t.example", one, *kind) else {
                assert!(!kind.may_stop());
                continue;
            };
            let text = address.strip_prefix("https://t.example/letters/stop/").unwrap();
            assert_eq!(meant(&key, text), Some((one, *kind)));
            assert_eq!(meant(&ServerKey::from_bytes([8; 32]), text), None);
            let mut forged = other.as_str().as_bytes().to_vec();
            forged.extend(code(&key, one, *kind));
            assert_eq!(meant(&key, &URL_SAFE_NO_PAD.encode(&forged)), None);
            // The code of one kind stops no other.
            let mut bent = one.as_str().as_bytes().to_vec();
            bent.extend(code(&key, one, *kind));
            bent.extend(if *kind == Kind::Week { b"urgent".as_slice() } else { b"week" });
            assert_eq!(meant(&key, &URL_SAFE_NO_PAD.encode(&bent)), None);
            for bad in ["", "no-such-secret", "AAAA", &text[..text.len() - 2]] {
                assert_eq!(meant(&key, bad), None, "{bad}");
            }
        }
        let mut of_account = one.as_str().as_bytes().to_vec();
        of_account.extend(code(&key, one, Kind::Reset));
        of_account.extend(b"reset");
        assert_eq!(meant(&key, &URL_SAFE_NO_PAD.encode(&of_account)), None);
    }
}
