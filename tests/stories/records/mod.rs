//! Tables taken out of a class: their exact bytes, who may take them, what is kept about it, and the command.

mod archive;
mod archived_again;
mod command;
mod foreign_ids;
mod keeping;
mod odd_archives;
mod oneroster;
mod scene;
mod sending;
mod tables;
