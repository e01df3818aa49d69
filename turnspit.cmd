@echo off
rem Sets Turnspit up on first use, then runs it: turnspit demo, turnspit test, turnspit WORD ...
setlocal
set "python=python"
where py >nul 2>nul
if not errorlevel 1 set "python=py -3"
%python% "%~dp0launch.py" %*
exit /b %errorlevel%
