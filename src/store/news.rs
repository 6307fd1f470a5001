//! News of classes, for pages that refresh by themselves. What is told is one number for a class: how far its journal
//! has come. It goes up with every act of this program on the class, and means the same after a restart.

use std::collections::HashMap;
use std::sync::{Mutex, PoisonError};

use diesel::prelude::*;
use tokio::sync::watch;

use crate::ids::ClassId;
use crate::store::connections::AnyConnection;
use crate::store::schema::journal_head;
use crate::trouble::Trouble;

/// The classes somebody listens to.
#[derive(Debug, Default)]
pub struct News {
    classes: Mutex<HashMap<ClassId, watch::Sender<i64>>>,
}

impl News {
    /// Listens to a class from now on; what it stands at is learned from `stands`, asked after this.
    #[must_use]
    pub fn hear(&self, class: ClassId) -> watch::Receiver<i64> {
        let mut classes = self.classes.lock().unwrap_or_else(PoisonError::into_inner);
        classes.retain(|_, told| told.receiver_count() > 0);
        classes.entry(class).or_insert_with(|| watch::channel(0).0).subscribe()
    }

    /// Tells where a class's journal stands. A number that is no news wakes nobody.
    pub fn tell(&self, class: ClassId, stands: i64) {
        let classes = self.classes.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(told) = classes.get(&class) {
            told.send_if_modified(|known| {
                let newer = stands > *known;
                *known = stands.max(*known);
                newer
            });
        }
    }
}

/// Where a class's journal stands. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn stands(db: &mut AnyConnection, class: ClassId) -> Result<i64, Trouble> {
    Ok(journal_head::table.find(class.to_string()).select(journal_head::seq).first(db)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clock::Instant;

    fn class(at: i64) -> ClassId {
        ClassId::new(Instant::from_millis(at))
    }

    #[test]
    fn only_what_is_new_in_the_class_wakes_a_listener() {
        let (news, here, elsewhere) = (News::default(), class(1), class(2));
        news.tell(here, 7);
        let mut heard = news.hear(here);
        assert!(!heard.has_changed().unwrap(), "nobody listened then");
        news.tell(elsewhere, 9);
        assert!(!heard.has_changed().unwrap(), "another class");
        news.tell(here, 8);
        assert_eq!((heard.has_changed().unwrap(), *heard.borrow_and_update()), (true, 8));
        news.tell(here, 8);
        news.tell(here, 5);
        assert_eq!((heard.has_changed().unwrap(), *heard.borrow()), (false, 8), "no news");
    }

    #[test]
    fn a_class_nobody_listens_to_is_forgotten() {
        let news = News::default();
        drop(news.hear(class(1)));
        let kept = news.hear(class(2));
        let classes = news.classes.lock().unwrap();
        assert_eq!(classes.len(), 1, "{kept:?}");
    }
}
