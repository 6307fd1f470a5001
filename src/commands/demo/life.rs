//! What goes on in the demo class besides plates: a critique, second looks, the roll of each meeting, duties, and what is
//! granted.

use super::calendar::Calendar;
use super::deeds::Diary;
use super::school::found;
use super::script::{Asking, Duty, Life, Look};
use crate::clock::Instant;
use crate::ids::PersonId;
use crate::store::Tx;
use crate::store::classes::accommodations::Granted;
use crate::store::classes::dues::students;
use crate::store::classes::duties;
use crate::store::classes::rolls::{self, Called, Presence};
use crate::store::grades::critiques;
use crate::store::grades::second_looks;
use crate::store::plates::prints;
use crate::store::tonight::askings;
use crate::trouble::Trouble;

/// How many days back rolls are called.
const ROLLS: i64 = 45;

/// One thing that happened; numbers are places in the script's lists.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Moment {
    Granted,
    /// The meetings of so many days ago, if there was one.
    Roll(i64),
    Critique,
    DutySet(usize),
    DutyTold(usize),
    Asked(usize),
    Answered(usize),
    /// Somebody of the staff is asked for, and has seen to it.
    CalledFor(usize),
    SeenTo(usize),
}

/// All of it with its time.
///
/// # Errors
/// The script names a time that is none.
pub(super) fn moments(calendar: &Calendar, life: &Life) -> Result<Vec<(Instant, Moment)>, Trouble> {
    let mut all = vec![
        (calendar.at(46, "11:00")?, Moment::Granted),
        (calendar.at(life.critique.ago, "20:30")?, Moment::Critique),
    ];
    for ago in (1..=ROLLS).rev() {
        all.push((calendar.at(ago, "16:05")?, Moment::Roll(ago)));
    }
    for (place, duty) in life.duties.iter().enumerate() {
        all.push((calendar.at(duty.ago.max(0) + 2, "09:30")?, Moment::DutySet(place)));
        if duty.outcome.is_some() {
            all.push((calendar.at(duty.ago, "17:20")?, Moment::DutyTold(place)));
        }
    }
    for (place, asking) in life.askings.iter().enumerate() {
        let ago = |minutes: i64| calendar.now.plus_ms(-minutes * 60_000);
        all.push((ago(asking.minutes_ago), Moment::CalledFor(place)));
        all.extend(asking.answered_minutes_ago.map(|minutes| (ago(minutes), Moment::SeenTo(place))));
    }
    for (place, look) in life.second_looks.iter().enumerate() {
        all.push((calendar.at(look.ago, "21:10")?, Moment::Asked(place)));
        // Two days later: a Sunday between moves either back, but never past the other.
        if look.answer.is_some() {
            all.push((calendar.at(look.ago - 2, "18:15")?, Moment::Answered(place)));
        }
    }
    Ok(all)
}

fn look(diary: &Diary, place: usize) -> Result<&Look, Trouble> {
    diary.life.second_looks.get(place).ok_or(Trouble::NotFound)
}

fn duty(diary: &Diary, place: usize) -> Result<&Duty, Trouble> {
    diary.life.duties.get(place).ok_or(Trouble::NotFound)
}

fn asking(diary: &Diary, place: usize) -> Result<&Asking, Trouble> {
    diary.life.askings.get(place).ok_or(Trouble::NotFound)
}

/// Who did it.
///
/// # Errors
/// The script names nobody.
pub(super) fn whose(moment: &Moment, diary: &Diary) -> Result<PersonId, Trouble> {
    match moment {
        Moment::Asked(place) => diary.founded.student(&look(diary, *place)?.student),
        Moment::CalledFor(place) => diary.founded.student(&asking(diary, *place)?.student),
        Moment::DutySet(_) | Moment::DutyTold(_) => diary.founded.person("assistant"),
        _ => diary.founded.person("instructor"),
    }
}

/// Writes it down.
///
/// # Errors
/// The act refuses it: the script contradicts itself.
pub(super) fn happen(tx: &mut Tx<'_>, diary: &Diary, moment: &Moment) -> Result<(), Trouble> {
    let class = diary.founded.class;
    match moment {
        Moment::Granted => grant(tx, diary),
        Moment::Roll(ago) => roll(tx, diary, *ago),
        Moment::Critique => critique(tx, diary),
        Moment::DutySet(place) => {
            let told = duty(diary, *place)?;
            let people: Vec<PersonId> =
                told.students.iter().map(|number| diary.founded.student(number)).collect::<Result<_, _>>()?;
            tx.set_duties(class, &people, diary.founded.calendar.date(told.ago), told.what)
        }
        Moment::DutyTold(place) => {
            let told = duty(diary, *place)?;
            let day = diary.founded.calendar.date(told.ago);
            let Some(outcome) = told.outcome else { return Ok(()) };
            for number in &told.students {
                let person = diary.founded.student(number)?;
                let set = duties::duties(tx.connection, class, Some(person))?;
                let one = set.iter().find(|one| one.day == day && one.what.0 == told.what);
                tx.tell_duty(class, one.ok_or(Trouble::NotFound)?.id, outcome)?;
            }
            Ok(())
        }
        Moment::CalledFor(place) => call_for(tx, diary, *place),
        Moment::SeenTo(place) => see_to(tx, diary, *place),
        Moment::Asked(place) => {
            let first = *diary.assessments.first().ok_or(Trouble::NotFound)?;
            tx.ask_second_look(class, first, &look(diary, *place)?.reason).map(drop)
        }
        Moment::Answered(place) => {
            let told = look(diary, *place)?;
            let person = diary.founded.student(&told.student)?;
            let asked = second_looks::second_looks(tx.connection, class, Some(person))?;
            let id = asked.first().ok_or(Trouble::NotFound)?.id;
            tx.mark_stays(class, id, told.answer.as_deref().unwrap_or_default())
        }
    }
}

fn call_for(tx: &mut Tx<'_>, diary: &Diary, place: usize) -> Result<(), Trouble> {
    let (class, told) = (diary.founded.class, asking(diary, place)?);
    let own = prints::own_plates(tx.connection, class, diary.founded.student(&told.student)?)?;
    let plate = own.last().filter(|_| told.plate).map(|(id, _, _)| *id);
    let draft = askings::Draft { kind: told.kind, plate, place: told.place.clone() };
    tx.ask_for(class, diary.founded.calendar.zone, &draft).map(drop)
}

fn see_to(tx: &mut Tx<'_>, diary: &Diary, place: usize) -> Result<(), Trouble> {
    let (class, told) = (diary.founded.class, asking(diary, place)?);
    let person = diary.founded.student(&told.student)?;
    let open = askings::line(tx.connection, class, person, tx.now)?.open;
    match open.iter().find(|one| one.person == person && one.kind == told.kind) {
        Some(one) => tx.answer_asking(class, one.id),
        // Asked before midnight, and the day is over.
        None => Ok(()),
    }
}

fn grant(tx: &mut Tx<'_>, diary: &Diary) -> Result<(), Trouble> {
    for told in &diary.life.granted {
        let granted = Granted {
            person: diary.founded.student(&told.student)?,
            effect: told.effect,
            percent: told.percent,
            days: None,
            words: told.words.clone(),
            reason: String::new(),
        };
        tx.grant(diary.founded.class, &granted)?;
    }
    Ok(())
}

/// Everybody is here, but for those the script has away now and then; somebody is late each time.
fn roll(tx: &mut Tx<'_>, diary: &Diary, ago: i64) -> Result<(), Trouble> {
    let (class, day) = (diary.founded.class, diary.founded.calendar.date(ago));
    let meetings = rolls::rolls(tx.connection, class, day)?;
    let Some(held) = meetings.into_iter().map(|line| line.held).find(|held| held.day == day) else {
        return Ok(());
    };
    let all = students(tx.connection, class)?;
    let late = usize::try_from(ago).unwrap_or(0) % all.len().max(1);
    let called: Vec<Called> = all
        .iter()
        .enumerate()
        .map(|(place, student)| {
            let number = student.student_number.as_deref().unwrap_or_default();
            let away = diary.life.away.get(number).is_some_and(|every| ago % every.max(&1) == 0);
            let presence = match (away, place == late) {
                (true, _) if place % 2 == 0 => Presence::Excused,
                (true, _) => Presence::Away,
                (false, true) => Presence::Late,
                (false, false) => Presence::Here,
            };
            Called { person: student.person, seen: None, presence: Some(presence) }
        })
        .collect();
    tx.call_roll(class, day, (held.day, held.from_minute), &called)
}

fn critique(tx: &mut Tx<'_>, diary: &Diary) -> Result<(), Trouble> {
    let (class, told) = (diary.founded.class, &diary.life.critique);
    let project = found(&diary.founded.projects, &told.project)?;
    let id = tx.begin_critique(class, project, diary.founded.calendar.date(told.ago))?;
    let (one, notes) = critiques::with_notes(tx.connection, class, id)?;
    let mut words = Vec::new();
    for (number, line) in &told.lines {
        let person = diary.founded.student(number)?;
        if let Some(note) = notes.iter().find(|note| note.person == person) {
            words.push((note.print, line.clone()));
        }
    }
    tx.keep_critique(class, id, one.version, &words, None)?;
    tx.hand_back_critique(class, id).map(drop)
}
