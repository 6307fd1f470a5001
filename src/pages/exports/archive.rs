//! The archive of a class from the records page: as of now, or one that was made before, which gives the same file again.

use std::io::BufWriter;

use actix_web::HttpResponse;
use chrono::DateTime;

use crate::clock::Instant;
use crate::exchange::archive::writing::{self, Made, Source};
use crate::exchange::oneroster;
use crate::exchange::spool::{self, Spooled};
use crate::ids::{ClassId, TermId};
use crate::pages::answer::{Reply, encode, see_other};
use crate::pages::entry::InClass;
use crate::pages::exports::sending::{deliver, taking};
use crate::pages::house::House;
use crate::store::classes::facts;
use crate::store::copying::{self, kept};
use crate::store::exports::disclosures;
use crate::store::exports::{self, file_name};
use crate::store::studio::papers::Papers;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

impl House {
    /// Where the papers lie.
    #[must_use]
    pub fn papers(&self) -> Papers {
        Papers::in_folder(self.settings.data.join("papers"))
    }

    /// Writes an archive of classes into the spool, as of now where no moment is told, and keeps its text, so that the same
    /// moment gives the same file again. Says as of when it is.
    ///
    /// # Errors
    /// `Busy`, there is none of that moment, or something cannot be read.
    pub async fn archive(
        &self,
        classes: Vec<ClassId>,
        as_of: Option<Instant>,
    ) -> Result<(Spooled, Instant), Trouble> {
        let mut asked = as_of;
        loop {
            let made = self.archive_once(classes.clone(), asked).await?;
            let (at, now, classes) = (made.as_of, self.now(), classes.clone());
            let Some((mut text, purged)) = made.text else { return Ok((made.spooled, at)) };
            if self.db.note(move |db| kept::keep(db, (&classes, at), (now, purged), &mut text)).await? {
                return Ok((made.spooled, at));
            }
            // Somebody else's of the same moment was kept first: that one is given out, to both. Or something was purged
            // meanwhile: then there is none of that moment any more.
            asked = Some(at);
        }
    }

    async fn archive_once(&self, classes: Vec<ClassId>, as_of: Option<Instant>) -> Result<Made, Trouble> {
        let (speech, shelf, papers) = (self.speech.clone(), self.darkroom.shelf(), self.papers());
        let now = self.now();
        self.spool
            .fill(&self.db, move |db, nameless| {
                let source = Source { speech: &speech, shelf: &*shelf, papers: &papers };
                writing::write(db, source, (&classes, as_of), now, nameless)
            })
            .await
    }

    /// Writes a class as a package into the spool.
    ///
    /// # Errors
    /// `Busy`, or something cannot be read.
    pub async fn package(&self, class: ClassId) -> Result<Spooled, Trouble> {
        self.spool
            .fill(&self.db, move |db, nameless| {
                let package = copying::of_one_moment(db, |db| oneroster::of_class(db, class))?;
                let unwritten = |error: String| Trouble::broken("writing a package", error);
                let file = package.write(BufWriter::new(nameless.file()?)).map_err(unwritten)?;
                let file = file.into_inner().map_err(|error| unwritten(error.to_string()))?;
                spool::written(file).map_err(|error| unwritten(error.to_string()))
            })
            .await
    }

    /// The term a class is in.
    ///
    /// # Errors
    /// `NotFound`.
    pub async fn term_of(&self, class: ClassId) -> Result<TermId, Trouble> {
        self.db.read(move |db| Ok(facts::class(db, class)?.term.id)).await
    }
}

/// Sends a student everything that is theirs in the class.
pub async fn send_own(ask: InClass) -> Reply {
    if ask.confirmed().is_err() {
        // To the page and not to the file: a browser that is sent to a file stays where it was.
        let page = ask.path("/grades");
        return Ok(see_other(format!("/account/confirm?next={}", encode(&page))));
    }
    let (house, class, now, person) = (&ask.house, ask.class(), ask.now(), ask.person.id);
    let (speech, shelf, papers) = (house.speech.clone(), house.darkroom.shelf(), house.papers());
    let spooled = house
        .spool
        .fill(&house.db, move |db, nameless| {
            let source = Source { speech: &speech, shelf: &*shelf, papers: &papers };
            writing::write_own(db, source, (class, person), now, nameless.file()?)
        })
        .await?;
    let name = file_name(&format!("{} {}.zip", ask.membership.class_code, ask.membership.term_name));
    Ok(deliver(spooled, &name, "application/zip"))
}

/// Sends the class as a package that follows the OneRoster 1.2 CSV binding.
pub async fn send_package(ask: InClass) -> Reply {
    if ask.confirmed().is_err() {
        let page = ask.path("/records");
        return Ok(see_other(format!("/account/confirm?next={}", encode(&page))));
    }
    let (house, class, now, by) = (&ask.house, ask.class(), ask.now(), ask.person.id);
    let of = house.db.read(move |db| exports::of(db, class, now)).await?;
    let spooled = house.package(class).await?;
    if let Some(known) = crate::pages::exports::sending::known_already(&ask.request, &spooled) {
        return Ok(known);
    }
    let taking = taking(&ask, "oneroster", &spooled);
    house.db.note(move |db| disclosures::keep(db, now, Some(by), class, &taking)).await?;
    let name = file_name(&format!("{} {} oneroster.zip", of.code, of.term));
    Ok(deliver(spooled, &name, "application/zip"))
}

/// Sends the archive of the class: as of now, or as of the moment that comes with the address.
pub async fn send(ask: InClass) -> Reply {
    if ask.confirmed().is_err() {
        let page = ask.path("/records");
        return Ok(see_other(format!("/account/confirm?next={}", encode(&page))));
    }
    let as_of = as_of(&ask)?;
    let (house, class, now, by) = (&ask.house, ask.class(), ask.now(), ask.person.id);
    let of = house.db.read(move |db| exports::of(db, class, now)).await?;
    let (spooled, as_of) = house.archive(vec![class], as_of).await?;
    let name = file_name(&format!("{} {} {}.zip", of.code, of.term, as_of.utc().format("%Y-%m-%d %H%M")));
    if let Some(known) = crate::pages::exports::sending::known_already(&ask.request, &spooled) {
        return Ok(known);
    }
    let taking = taking(&ask, "archive", &spooled);
    house.db.note(move |db| disclosures::keep(db, now, Some(by), class, &taking)).await?;
    let response: HttpResponse = deliver(spooled, &name, "application/zip");
    Ok(response)
}

/// Sends the archive of every class of the term to whoever instructs all of them.
pub async fn send_term(ask: InClass) -> Reply {
    if ask.confirmed().is_err() {
        let page = ask.path("/records");
        return Ok(see_other(format!("/account/confirm?next={}", encode(&page))));
    }
    let as_of = as_of(&ask)?;
    let (house, term, now, by) = (&ask.house, ask.membership.term, ask.now(), ask.person.id);
    let all = house.db.read(move |db| exports::of_term(db, term, by)).await?;
    let others: Vec<&str> = all.iter().filter(|(_, _, own)| !own).map(|(_, code, _)| code.as_str()).collect();
    if !others.is_empty() {
        let remark = Remark::new("archive-term-others").with("codes", others.join(", "));
        return Err(Trouble::Refused(remark));
    }
    let classes: Vec<ClassId> = all.iter().map(|(id, ..)| *id).collect();
    let (spooled, as_of) = house.archive(classes.clone(), as_of).await?;
    if let Some(known) = crate::pages::exports::sending::known_already(&ask.request, &spooled) {
        return Ok(known);
    }
    let taking = taking(&ask, "archive", &spooled);
    house
        .db
        .note(move |db| {
            classes.into_iter().try_for_each(|class| disclosures::keep(db, now, Some(by), class, &taking))
        })
        .await?;
    let at = as_of.utc().format("%Y-%m-%d %H%M");
    Ok(deliver(spooled, &file_name(&format!("{} {at}.zip", ask.membership.term_name)), "application/zip"))
}

fn as_of(ask: &InClass) -> Result<Option<Instant>, Trouble> {
    let Some(told) = ask.query("as-of") else { return Ok(None) };
    let at = DateTime::parse_from_rfc3339(&told).map_err(|_error| {
        let value: String = told.chars().take(40).collect();
        Trouble::Refused(Remark::new("archive-as-of").with("value", value))
    })?;
    Ok(Some(Instant::from_utc(at.to_utc())))
}
