//! Questions at the keyboard.

use super::words::Words;
use super::{now, said};
use crate::problem::Problem;
use crate::terminal::Terminal;
use locknut_graph::Way;
use locknut_job::{Answer, Ask, Job, Record};
use locknut_quantity::Exact;
use locknut_sheet::{Panel, Sheet};
use std::io::BufRead;
use std::time::{Duration, Instant};

/// Works through a job; the person may leave it with `stop`, and the record so far is kept.
pub(super) fn by_hand(
    mut job: Job<'_>,
    sheet: &Sheet,
    words: &Words,
    terminal: &Terminal,
) -> Result<Record, Problem> {
    terminal.message(&format!("{}\n{}", sheet.head.title, sheet.head.model));
    for caution in &sheet.cautions {
        terminal.message(&format!("  {caution}"));
    }
    for said in &words.ahead {
        terminal.message(&format!("  {said}"));
    }
    for panel in &sheet.banner {
        tell_panel(terminal, panel);
    }
    let mut keyboard = std::io::stdin().lock();
    let mut step = String::new();
    loop {
        let ask = job.ask();
        let here = words.number(&ask).cloned().unwrap_or_default();
        if here != step {
            for said in words.leaves(&step, &here) {
                terminal.message(&format!("   ||| {said}"));
            }
            step = here;
        }
        if let Ask::Ended { node } = ask {
            // Where it stops or refers, the way that led here has said so.
            if !sheet.ends.contains_key(&node) {
                terminal.message(&format!("\n{}", words.word("end-done")));
            }
            tell_end(&job, sheet, terminal);
            return Ok(job.finish());
        }
        tell(&ask, words, terminal);
        let began = Instant::now();
        let Some(typed) = typed(&mut keyboard)? else {
            terminal.message(words.word("job-left"));
            return Ok(job.finish());
        };
        if let Ask::Wait { seconds, .. } = &ask
            && let Some(left) = time_left(seconds, began)
        {
            terminal.message(&format!("{}: {left}", words.word("still-wait")));
            continue;
        }
        let answer = match answer_of(&ask, &typed) {
            Ok(answer) => answer,
            Err(why) => {
                terminal.message(words.word(why));
                continue;
            }
        };
        match job.answer(&answer, &now()) {
            Ok(told) => tell_way(&ask, words, terminal, told.way, told.result.as_deref()),
            Err(refused) => terminal.message(&said::refused(&refused, words)),
        }
    }
}

fn typed(keyboard: &mut impl BufRead) -> Result<Option<String>, Problem> {
    let mut line = String::new();
    let count = keyboard
        .read_line(&mut line)
        .map_err(|why| Problem::Other(format!("the keyboard cannot be read: {why}")))?;
    let text = line.trim().to_owned();
    Ok((count > 0 && text != "stop").then_some(text))
}

/// What is left of a wait, in words.
fn time_left(seconds: &Exact, began: Instant) -> Option<String> {
    let wanted: u64 = seconds.ceil().to_integer().try_into().unwrap_or(u64::MAX);
    let left = Duration::from_secs(wanted).checked_sub(began.elapsed())?;
    let seconds = left.as_secs();
    (seconds > 0).then(|| format!("{} min {} s", seconds / 60, seconds % 60))
}

fn tell(ask: &Ask, words: &Words, terminal: &Terminal) {
    if let Some(step) = words.step(ask) {
        if let Some(group) = &step.group {
            terminal.message(&format!("\n{group}"));
        }
        for panel in &step.panels {
            tell_panel(terminal, panel);
        }
        let head = format!("\n{}  {}", step.number, step.text.as_deref().unwrap_or(""));
        terminal.message(head.trim_end());
        if let Some(who) = &step.who {
            terminal.message(&format!("   {who}"));
        }
    }
    if let Some(group) = words.group(ask) {
        terminal.message(&format!("   {group}"));
    }
    for note in words.notes(ask) {
        terminal.message(&format!("   {note}"));
    }
    if let Some(line) = words.line(ask) {
        for panel in &line.panels {
            tell_panel(terminal, panel);
        }
        for caution in &line.cautions {
            terminal.message(&format!("   ! {caution}"));
        }
        terminal.message(&format!("   {}", line.text));
        if let Some(order) = &line.order {
            terminal.message(&format!("   {}", order.words));
        }
        for table in &line.tables {
            terminal.message(&format!("     {}", table.columns.join(" | ")));
            for row in &table.rows {
                terminal.message(&format!("     {}", row.join(" | ")));
            }
            if let Some(caption) = &table.caption {
                terminal.message(&format!("     {caption}"));
            }
        }
    }
    terminal.message(&format!("   {}", said::prompt(ask, words)));
}

/// The answer, or the key of what is said where it is none.
fn answer_of(ask: &Ask, typed: &str) -> Result<Answer, &'static str> {
    let picked = |count: usize| {
        let number = typed.parse::<usize>().ok().filter(|number| (1..=count).contains(number));
        number.map(|number| Answer::Picked(number - 1)).ok_or("type-number")
    };
    match ask {
        Ask::Series { values, .. } => picked(values.len()),
        Ask::Answers { answers, .. } => match answers.iter().position(|answer| answer == typed) {
            Some(position) => Ok(Answer::Picked(position)),
            None => picked(answers.len()),
        },
        Ask::Child { children, .. } => picked(children.len()),
        Ask::Serial { .. } | Ask::Text { .. } => Ok(Answer::Typed(vec![typed.to_owned()])),
        Ask::Numbers { .. } => {
            Ok(Answer::Typed(typed.split_whitespace().map(str::to_owned).collect()))
        }
        // Whoever types something has something to say: it is not done.
        Ask::Tick { .. } | Ask::Wait { .. } | Ask::Result { .. } if !typed.is_empty() => {
            Err("enter-alone")
        }
        Ask::Tick { .. } | Ask::Wait { .. } | Ask::Result { .. } | Ask::Ended { .. } => {
            Ok(Answer::Done)
        }
    }
}

fn tell_way(ask: &Ask, words: &Words, terminal: &Terminal, way: Way, result: Option<&str>) {
    if let Some(result) = result {
        terminal.message(&format!("   {}", said::result(ask, words, result)));
    }
    let outcome =
        words.line(ask).and_then(|line| line.outcomes.iter().find(|outcome| outcome.way == way));
    if let Some(outcome) = outcome {
        terminal.message(&format!("   {}", outcome.said()));
    }
}

fn tell_panel(terminal: &Terminal, panel: &Panel) {
    terminal.message(&format!("\n   {}: {}", panel.word, panel.text));
}

/// How the machine stands, in the words of the sheet.
fn tell_end(job: &Job<'_>, sheet: &Sheet, terminal: &Terminal) {
    let word = |key: &str| sheet.labels.get(key).cloned().unwrap_or_default();
    let stands: Vec<String> = job
        .odd()
        .into_iter()
        .filter_map(|(variable, value)| Some(sheet.states.get(&variable)?.said(value)))
        .collect();
    if stands.is_empty() {
        terminal.message(&format!("\n{}", word("stands-normal")));
    } else {
        terminal.message(&format!("\n{}: {}.", word("stands"), stands.join("; ")));
    }
}
