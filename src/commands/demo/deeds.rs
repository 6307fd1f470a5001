//! Writing down what happened, each event by the act a page would use, at its own moment.

use std::collections::HashMap;
use std::sync::Arc;

use super::events::{Deed, Event};
use super::happenings::Happening;
use super::pictures::Pictures;
use super::school::{self, Founded, found};
use super::script::{Etch, Life, School, Work, Works};
use super::{life, marks};
use crate::clock::Instant;
use crate::ids::{AssessmentId, ContainerId, EtchId, PersonId, PlateId, PrintId, ProofId};
use crate::store::etches::came_up;
use crate::store::etches::recording::{Draft, When};
use crate::store::plates::folder::{KnownHow, SizeUnit};
use crate::store::plates::prints::{NewPlate, NewPrint};
use crate::store::plates::procedures::Procedures;
use crate::store::plates::put_downs::PutDownDraft;
use crate::store::plates::runs::{At, Told};
use crate::store::proofs::OfPlate;
use crate::store::proofs::pulls::{NewProof, ProofKind};
use crate::store::{Db, Scope, Tx};
use crate::trade::etch::logged::Kind;
use crate::trade::exact::Exact;
use crate::trade::measure::{Unit, Volume};
use crate::trade::procedure::{Ordered, Surface};
use crate::trouble::Trouble;

/// The script, and what has come of it so far.
#[derive(Debug, Clone)]
pub(super) struct Diary {
    pub founded: Founded,
    pub school: Arc<School>,
    pub works: Arc<Works>,
    pub life: Arc<Life>,
    pub procedures: Arc<Procedures>,
    pub pictures: Arc<Pictures>,
    pub assessments: Vec<AssessmentId>,
    pub so_far: SoFar,
}

#[derive(Debug, Clone, Default)]
pub(super) struct SoFar {
    plates: HashMap<usize, (PrintId, PlateId)>,
    etches: HashMap<(usize, String), EtchId>,
    proofs: HashMap<usize, ProofId>,
}

impl Diary {
    /// Writes one event.
    ///
    /// # Errors
    /// The act refuses it: the script contradicts itself.
    pub(super) async fn write(&mut self, db: &Db, event: &Event) -> Result<(), Trouble> {
        let (scope, by) = self.whose(&event.deed)?;
        let (diary, deed) = (self.clone(), event.deed.clone());
        self.so_far = db
            .write(scope, Some(by), event.at, move |tx| {
                let mut so_far = diary.so_far.clone();
                diary.act(tx, &deed, &mut so_far)?;
                Ok(so_far)
            })
            .await?;
        Ok(())
    }

    /// Whose journal, and who did it.
    fn whose(&self, deed: &Deed) -> Result<(Scope, PersonId), Trouble> {
        let class = Scope::Class(self.founded.class);
        Ok(match deed {
            Deed::Life(moment) => (class, life::whose(moment, self)?),
            Deed::Turned(_) | Deed::Finished(_) => (Scope::School, self.founded.person("assistant")?),
            Deed::Told { step, .. } if step == "go-ahead" => (class, self.founded.person("instructor")?),
            Deed::Comment(_) | Deed::Withdrew(_) | Deed::Marked(_) | Deed::HandedBack(_) => {
                (class, self.founded.person("instructor")?)
            }
            Deed::Happened(place) => self.happening(*place)?.what.whose(&self.founded)?,
            Deed::Began(work)
            | Deed::Told { work, .. }
            | Deed::Started { work, .. }
            | Deed::Amended { work, .. }
            | Deed::CameUp { work, .. }
            | Deed::PutDown { work, .. }
            | Deed::Proof { work, .. }
            | Deed::HandedIn(work) => (class, self.founded.student(&self.work(*work)?.student)?),
        })
    }

    fn happening(&self, place: usize) -> Result<&Happening, Trouble> {
        let nothing = || Trouble::broken("writing the demo's diary", format!("nothing happened at {place}"));
        self.school.happened.get(place).ok_or_else(nothing)
    }

    fn act(&self, tx: &mut Tx<'_>, deed: &Deed, so_far: &mut SoFar) -> Result<(), Trouble> {
        let listed =
            |place: usize| Trouble::broken("writing the demo's diary", format!("nothing at {place}"));
        match deed {
            Deed::Began(work) => self.begin(tx, *work, so_far),
            Deed::Told { work, step, began } => self.tell(tx, *work, step, *began, so_far),
            Deed::Started { work, step } => {
                tx.start_step(&self.procedures, &self.at(*work, so_far)?, step).map(drop)
            }
            Deed::Amended { work, step } => self.amend(tx, *work, step, so_far),
            Deed::CameUp { work, step, how } => {
                let etch = *so_far.etches.get(&(*work, step.clone())).ok_or(Trouble::NotFound)?;
                let note = self.work(*work)?.remark.get(step).cloned().unwrap_or_default();
                let told = came_up::Told { how: *how, note, at: tx.now };
                tx.tell_came_up(&self.procedures, &self.at(*work, so_far)?, etch, None, &told).map(drop)
            }
            Deed::PutDown { work, talc } => {
                let rack_place = format!("R{}", work % 12 + 1);
                let down = PutDownDraft { gummed: true, buffed: true, talc: *talc, rack_place };
                tx.put_plate_down(&self.procedures, &self.at(*work, so_far)?, &down)
            }
            Deed::Proof { work, kind, pull } => self.prove(tx, *work, *kind, *pull, so_far),
            Deed::Comment(work) => {
                let (of, words) = (self.of_plate(*work, so_far)?, self.work(*work)?.comment.clone());
                let about = so_far.proofs.get(work).copied();
                tx.add_comment(&of, about, &words.unwrap_or_default()).map(drop)
            }
            Deed::HandedIn(work) => {
                let (print, _) = *so_far.plates.get(work).ok_or_else(|| listed(*work))?;
                tx.hand_in(self.founded.class, print, tx.by, false)
            }
            Deed::Turned(place) => {
                let told = self.school.containers.get(*place).ok_or_else(|| listed(*place))?;
                school::turn(tx, &self.founded, told)
            }
            Deed::Finished(place) => {
                let told = self.school.containers.get(*place).ok_or_else(|| listed(*place))?;
                tx.finish_container(self.founded.studio, found(&self.founded.containers, &told.mark)?, true)
            }
            Deed::Withdrew(place) => {
                let told = self.school.withdrawn.get(*place).ok_or_else(|| listed(*place))?;
                school::withdraw(tx, &self.founded, told)
            }
            Deed::Marked(place) => marks::mark(tx, self, *place),
            Deed::Happened(place) => self.happening(*place)?.what.act(tx, &self.founded),
            Deed::Life(moment) => life::happen(tx, self, moment),
            Deed::HandedBack(place) => {
                let id = *self.assessments.get(*place).ok_or_else(|| listed(*place))?;
                tx.hand_back(self.founded.class, id).map(drop)
            }
        }
    }

    /// Adds the photo of a pull to its plate.
    fn prove(
        &self,
        tx: &mut Tx<'_>,
        work: usize,
        kind: ProofKind,
        pull: u32,
        so_far: &mut SoFar,
    ) -> Result<(), Trouble> {
        let Some((photo, picture)) = self.pictures.of(work, pull) else { return Ok(()) };
        let new = NewProof {
            photo,
            sha256: picture.sha256.clone(),
            width: picture.width,
            height: picture.height,
            bytes: picture.bytes,
            kind,
            pulled_at: tx.now,
            note: String::new(),
        };
        let id = tx.add_proof(&self.of_plate(work, so_far)?, &new)?;
        so_far.proofs.insert(work, id);
        Ok(())
    }

    fn begin(&self, tx: &mut Tx<'_>, place: usize, so_far: &mut SoFar) -> Result<(), Trouble> {
        let (work, class, owner) = (self.work(place)?, self.founded.class, tx.by);
        let before = place.checked_sub(1).and_then(|before| so_far.plates.get(&before)).copied();
        let person = tx.person()?;
        let print = match before.filter(|_| work.replaces || work.beside) {
            Some((print, _)) => print,
            None => {
                let project = found(&self.founded.projects, &work.project)?;
                let title = work.title.clone();
                tx.begin_print(class, &NewPrint { project, person, title, edition_size: None })?
            }
        };
        let surface = if work.stone { Surface::Stone } else { Surface::Plate };
        let new = NewPlate {
            procedure: *self.founded.procedures.get(&surface).ok_or(Trouble::NotFound)?,
            width_hundredths: 2500,
            height_hundredths: 3500,
            size_unit: SizeUnit::Centimetre,
            materials: work.materials.clone(),
            weight: work.weight,
            note: String::new(),
            replaces: before.filter(|_| work.replaces).map(|(_, plate)| plate),
        };
        let plate = tx.begin_plate(class, print, owner, &new)?;
        so_far.plates.insert(place, (print, plate));
        Ok(())
    }

    /// Tells a step that has just ended; an etch with its log.
    fn tell(
        &self,
        tx: &mut Tx<'_>,
        place: usize,
        step: &str,
        began: Instant,
        so_far: &mut SoFar,
    ) -> Result<(), Trouble> {
        let (work, mut at) = (self.work(place)?, self.at(place, so_far)?);
        if step == "go-ahead" {
            (at.owner, at.instructor) = (None, true);
        }
        if ["first-etch", "second-etch"].contains(&step) {
            let (step_key, known_how) = (step.to_owned(), KnownHow::Told);
            let when = When::Told { step_key, began_at: began, ended_at: tx.now, known_how };
            let draft = self.draft(place, step)?;
            let recorded = tx.record_etch(&self.procedures, &at, &when, &draft, None)?;
            so_far.etches.insert((place, step.to_owned()), recorded.etch);
            return Ok(());
        }
        let told = Told {
            step_key: step.to_owned(),
            began_at: began,
            ended_at: Some(tx.now),
            known_how: KnownHow::Told,
            sheets: ["edition", "curate"].contains(&step).then(|| work.sheets.unwrap_or(6)),
            note: String::new(),
        };
        let (run, outside) = tx.tell_step(&self.procedures, &at, &told)?;
        let settled = work.settled.as_ref().filter(|settled| settled.steps.iter().any(|one| one == step));
        if let Some(settled) = settled.filter(|_| !outside.is_empty()) {
            tx.by = Some(self.founded.person("instructor")?);
            let at = At { owner: None, instructor: true, ..at };
            tx.settle_run(&self.procedures, &at, run, Ordered::Stands, &settled.reason)?;
        }
        Ok(())
    }

    fn amend(&self, tx: &mut Tx<'_>, place: usize, step: &str, so_far: &SoFar) -> Result<(), Trouble> {
        let etch = *so_far.etches.get(&(place, step.to_owned())).ok_or(Trouble::NotFound)?;
        let told = self.work(place)?.etches.get(step).and_then(|etch| etch.amended.clone());
        let Some(amended) = told else { return Ok(()) };
        let draft = Draft { drops: Some(amended.drops), ..self.draft(place, step)? };
        tx.amend_etch(&self.at(place, so_far)?, etch, etch, &draft, &amended.reason).map(drop)
    }

    /// The usual etch for the drawing, and what was different this time.
    fn draft(&self, place: usize, step: &str) -> Result<Draft, Trouble> {
        let work = self.work(place)?;
        let usual = self.works.etches.get(&work.weight).cloned().unwrap_or_default();
        let told = work.etches.get(step).cloned().unwrap_or_default();
        let gum = told.cut_with.clone().or_else(|| told.gum.clone()).or(usual.gum);
        let acid = told.acid.clone().or(usual.acid);
        let named = |mark: Option<&String>| -> Result<Option<ContainerId>, Trouble> {
            mark.map(|mark| found(&self.founded.containers, mark)).transpose()
        };
        let recipe = match (&told.stock, &told.cut_with) {
            (None, _) => Kind::AcidInGum,
            (Some(_), None) => Kind::Stock,
            (Some(_), Some(_)) => Kind::StockCut,
        };
        let volume = Volume::told("gum", &Exact::whole(self.works.gum_ounces), Unit::UsFluidOunce)
            .map_err(|remark| Trouble::broken("measuring the demo's gum", format!("{remark:?}")))?
            .to_microlitres();
        Ok(Draft {
            recipe,
            gum: named(gum.as_ref())?,
            gum_microlitres: Some(volume),
            unit: Unit::UsFluidOunce,
            acid: named(acid.as_ref())?,
            drops: told.drops.or(usual.drops),
            stock: named(told.stock.as_ref())?,
            stock_microlitres: Some(volume),
            measured_ph_hundredths: told.measured_ph_hundredths,
            applications: seconds(&told, usual.applications)?,
            tool: "wide soft brush".to_owned(),
            helper: String::new(),
            seen: told.seen.unwrap_or_default(),
        })
    }

    pub(super) fn work(&self, place: usize) -> Result<&Work, Trouble> {
        self.works.works.get(place).ok_or_else(|| Trouble::broken("writing the demo's diary", "no such work"))
    }

    fn plate(&self, place: usize, so_far: &SoFar) -> Result<PlateId, Trouble> {
        let known = so_far.plates.get(&place).map(|(_, plate)| *plate);
        known
            .ok_or_else(|| Trouble::broken("writing the demo's diary", format!("work {place} has not begun")))
    }

    fn at(&self, place: usize, so_far: &SoFar) -> Result<At, Trouble> {
        Ok(At {
            class: self.founded.class,
            studio: self.founded.studio,
            zone: self.founded.calendar.zone,
            plate: self.plate(place, so_far)?,
            owner: Some(self.founded.student(&self.work(place)?.student)?),
            instructor: false,
        })
    }

    fn of_plate(&self, place: usize, so_far: &SoFar) -> Result<OfPlate, Trouble> {
        Ok(OfPlate { class: self.founded.class, plate: self.plate(place, so_far)?, owner: None })
    }
}

/// Minutes and seconds as seconds.
fn seconds(told: &Etch, usual: Option<Vec<String>>) -> Result<Vec<i32>, Trouble> {
    let all = told.applications.clone().or(usual).unwrap_or_default();
    all.iter()
        .map(|text| {
            let (minutes, seconds) = text.split_once(':')?;
            Some(minutes.parse::<i32>().ok()? * 60 + seconds.parse::<i32>().ok()?)
        })
        .collect::<Option<_>>()
        .ok_or_else(|| Trouble::broken("reading the demo's etches", "an application is no M:SS"))
}
