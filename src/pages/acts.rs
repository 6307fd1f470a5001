//! One act from a form: in one write transaction, once for each sending, and on to the next page.

use crate::pages::answer::{Reply, see_other};
use crate::pages::entry::Ask;
use crate::pages::forms::Filled;
use crate::store::{Scope, Tx};
use crate::trouble::Trouble;

impl Ask {
    /// Runs an act of the person asking and goes on to where the act says: an address, with a word on the next page by
    /// `said`. The same form sent twice acts once and goes to the same place.
    ///
    /// # Errors
    /// What the act says.
    pub async fn act_to<F>(&self, scope: Scope, filled: &Filled, act: F) -> Reply
    where
        F: Fn(&mut Tx<'_>) -> Result<String, Trouble> + Send + 'static,
    {
        let (by, key) = (self.person()?.id, filled.once_key()?);
        let location =
            self.house.db.write(scope, Some(by), self.now(), move |tx| tx.once(&key, |tx| act(tx))).await?;
        Ok(see_other(location))
    }

    /// As `act_to`, for an act after which one always goes to the same place.
    ///
    /// # Errors
    /// What the act says.
    pub async fn act<F>(&self, scope: Scope, filled: &Filled, next: String, act: F) -> Reply
    where
        F: Fn(&mut Tx<'_>) -> Result<(), Trouble> + Send + 'static,
    {
        self.act_to(scope, filled, move |tx| act(tx).map(|()| next.clone())).await
    }
}

/// An address with the key of what is said there: one of the catalogue's `done-…` keys.
#[must_use]
pub fn said(location: impl AsRef<str>, key: &str) -> String {
    let location = location.as_ref();
    let (path, mark) = location.split_once('#').map_or((location, None), |(path, mark)| (path, Some(mark)));
    let joint = if path.contains('?') { '&' } else { '?' };
    let mark = mark.map(|mark| format!("#{mark}")).unwrap_or_default();
    format!("{path}{joint}done={key}{mark}")
}
