//! Passwords: argon2id off the async threads, two at a time, with a bounded queue, so that fifty people signing in at
//! once cost no more memory than two.

pub mod rule;

use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use argon2::password_hash::phc::PasswordHash;
use argon2::password_hash::{PasswordHasher, PasswordVerifier};
use argon2::{Algorithm, Argon2, Params, Version};
use tokio::sync::Semaphore;

use crate::trouble::Trouble;

/// How many may wait for one of the two places.
const QUEUE: usize = 60;

/// Hashes and checks passwords.
#[derive(Debug, Clone)]
pub struct Passwords {
    params: Params,
    permits: Arc<Semaphore>,
    waiting: Arc<AtomicUsize>,
    /// Checked where there is no account, so that both take as long.
    decoy: Arc<str>,
}

impl Passwords {
    /// The cost of OWASP's list that Debian's allocator gives back: 46 MiB, one pass, one lane. `quick` is for tests.
    ///
    /// # Errors
    /// The parameters are refused.
    pub fn new(quick: bool) -> Result<Self, Trouble> {
        let memory_kib = if quick { 64 } else { 47_104 };
        let params = Params::new(memory_kib, 1, 1, None)
            .map_err(|error| Trouble::broken("setting up passwords", error))?;
        let decoy = hash(&params, "no account has this password")?;
        Ok(Self {
            params,
            permits: Arc::new(Semaphore::new(2)),
            waiting: Arc::new(AtomicUsize::new(0)),
            decoy: decoy.into(),
        })
    }

    /// Hashes a password to a PHC string.
    ///
    /// # Errors
    /// Too many are waiting.
    pub async fn hash(&self, password: String) -> Result<String, Trouble> {
        let params = self.params.clone();
        self.run(move || hash(&params, &password)).await
    }

    /// Whether a password is the one that was hashed; without a hash the answer is no, as late as a yes.
    ///
    /// # Errors
    /// Too many are waiting, or the stored hash cannot be read.
    pub async fn verify(&self, password: String, stored: Option<String>) -> Result<bool, Trouble> {
        let decoy = self.decoy.clone();
        self.run(move || {
            let known = stored.is_some();
            let text = stored.as_deref().unwrap_or(&decoy);
            let parsed =
                PasswordHash::new(text).map_err(|error| Trouble::broken("reading a password hash", error))?;
            Ok(Argon2::default().verify_password(password.as_bytes(), &parsed).is_ok() && known)
        })
        .await
    }

    async fn run<T: Send + 'static>(
        &self,
        work: impl FnOnce() -> Result<T, Trouble> + Send + 'static,
    ) -> Result<T, Trouble> {
        if self.waiting.fetch_add(1, Ordering::SeqCst) >= QUEUE + 2 {
            self.waiting.fetch_sub(1, Ordering::SeqCst);
            return Err(Trouble::Busy);
        }
        let permit = self.permits.clone().acquire_owned().await;
        let outcome = match permit {
            Ok(permit) => tokio::task::spawn_blocking(move || {
                let _held = permit;
                work()
            })
            .await
            .map_err(|error| Trouble::broken("hashing a password", error))
            .and_then(|outcome| outcome),
            Err(error) => Err(Trouble::broken("waiting to hash a password", error)),
        };
        self.waiting.fetch_sub(1, Ordering::SeqCst);
        outcome
    }
}

fn hash(params: &Params, password: &str) -> Result<String, Trouble> {
    Argon2::new(Algorithm::Argon2id, Version::V0x13, params.clone())
        .hash_password(password.as_bytes())
        .map(|hash| hash.to_string())
        .map_err(|error| Trouble::broken("hashing a password", error))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn who_comes_when_the_queue_is_full_is_told_to_come_again() {
        let passwords = Passwords::new(true).unwrap();
        let runtime = tokio::runtime::Builder::new_current_thread().build().unwrap();
        let together = QUEUE + 2 + 5;
        let all = (0..together).map(|_| passwords.hash("gum over the whole plate".to_owned()));
        let outcomes = runtime.block_on(futures_util::future::join_all(all));
        let busy = outcomes.iter().filter(|outcome| matches!(outcome, Err(Trouble::Busy))).count();
        assert_eq!(
            (busy, outcomes.len() - busy),
            (5, QUEUE + 2),
            "two at work, {QUEUE} waiting, the others told"
        );
        let later = runtime.block_on(passwords.hash("gum over the whole plate".to_owned()));
        assert!(later.is_ok(), "the places are free again");
    }
}
