"""Files: setups read and written, the shelf of a folder, saves that lose nothing, drafts of unsaved work."""
