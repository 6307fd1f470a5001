//! The server's key and what is derived from it: form seals, one-time links, and hashes of session tokens.

use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use hmac::{Hmac, KeyInit, Mac};
use sha2::{Digest, Sha256};
use subtle::ConstantTimeEq;

use crate::trouble::Trouble;

/// 32 random bytes that all servers of one school share. Losing them costs open links, never records.
#[derive(Clone)]
pub struct ServerKey([u8; 32]);

impl std::fmt::Debug for ServerKey {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("ServerKey")
    }
}

impl ServerKey {
    #[must_use]
    pub const fn from_bytes(bytes: [u8; 32]) -> Self {
        Self(bytes)
    }

    #[must_use]
    pub const fn bytes(&self) -> &[u8; 32] {
        &self.0
    }

    /// HMAC-SHA-256 over a purpose word and parts, each ended by a zero byte so that no two splits agree.
    #[must_use]
    pub fn derive(&self, purpose: &str, parts: &[&[u8]]) -> [u8; 32] {
        let mut mac = match Hmac::<Sha256>::new_from_slice(&self.0) {
            Ok(mac) => mac,
            // HMAC takes a key of any length; this arm cannot be reached.
            Err(_) => return [0; 32],
        };
        mac.update(purpose.as_bytes());
        mac.update(&[0]);
        for part in parts {
            mac.update(part);
            mac.update(&[0]);
        }
        mac.finalize().into_bytes().into()
    }

    /// The secret of a one-time link, computed again from its row's id whenever the letter is sent.
    #[must_use]
    pub fn link_secret(&self, purpose: &str, row: &str) -> String {
        URL_SAFE_NO_PAD.encode(self.derive("link", &[purpose.as_bytes(), row.as_bytes()]))
    }

    /// A form seal for a visitor: masked by fresh randomness, so no two pages carry the same text.
    ///
    /// # Errors
    /// The machine gives no randomness.
    pub fn seal(&self, visitor: &str) -> Result<String, Trouble> {
        let mask = random::<16>()?;
        let mut sealed = mask.to_vec();
        sealed.extend_from_slice(&self.derive("seal", &[visitor.as_bytes(), &mask]));
        Ok(URL_SAFE_NO_PAD.encode(sealed))
    }

    /// Whether a seal was made for this visitor.
    #[must_use]
    pub fn seal_holds(&self, visitor: &str, seal: &str) -> bool {
        let Ok(bytes) = URL_SAFE_NO_PAD.decode(seal) else { return false };
        let Some((mask, mac)) = bytes.split_at_checked(16) else { return false };
        self.derive("seal", &[visitor.as_bytes(), mask]).ct_eq(mac).into()
    }
}

/// Random bytes from the operating system.
///
/// # Errors
/// The machine gives no randomness.
pub fn random<const N: usize>() -> Result<[u8; N], Trouble> {
    let mut bytes = [0; N];
    getrandom::fill(&mut bytes).map_err(|error| Trouble::broken("drawing random bytes", error))?;
    Ok(bytes)
}

/// A fresh 256-bit token as URL-safe text.
///
/// # Errors
/// The machine gives no randomness.
pub fn token() -> Result<String, Trouble> {
    Ok(URL_SAFE_NO_PAD.encode(random::<32>()?))
}

/// SHA-256 in lower-case hexadecimal: what is stored instead of a secret.
#[must_use]
pub fn sha256_hex(bytes: &[u8]) -> String {
    hex(&Sha256::digest(bytes))
}

/// Bytes in lower-case hexadecimal.
#[must_use]
pub fn hex(bytes: &[u8]) -> String {
    use std::fmt::Write;
    bytes.iter().fold(String::with_capacity(bytes.len() * 2), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_seal_holds_for_its_visitor_alone_and_is_never_the_same_twice() {
        let key = ServerKey::from_bytes([7; 32]);
        let (one, two) = (key.seal("ada").unwrap(), key.seal("ada").unwrap());
        assert_ne!(one, two);
        assert!(key.seal_holds("ada", &one) && key.seal_holds("ada", &two));
        assert!(!key.seal_holds("eve", &one));
        assert!(!key.seal_holds("ada", "AAAA"));
        assert!(!key.seal_holds("ada", "no base64 !"));
    }

    #[test]
    fn sha256_of_abc_is_that_of_fips_180_4() {
        // FIPS 180-4, example "abc" (value from memory).
        assert_eq!(sha256_hex(b"abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }
}
